/** `npm start`: reads the settings, starts the practice, says where it is, and stops cleanly when told to. */
import { writeSync } from 'node:fs';
import { destination, pino } from 'pino';
import { systemClock } from '../basics/system-clock.ts';
import { showDiagnostic } from '../content/diagnostic.ts';
import { readConfig } from './config.ts';
import { FAULT_ANSWERS } from './errors.ts';
import { start, type Running, type StartFault } from './start.ts';

const FLOWS = 'flows';

function say(line: string): void {
  writeSync(1, `${line}\n`);
}

function complain(line: string): void {
  writeSync(2, `${line}\n`);
}

/** Every diagnostic on a line of its own; nothing was half loaded. */
function refuse(what: StartFault): void {
  if (what.content !== null) {
    for (const diagnostic of what.content) complain(showDiagnostic(diagnostic));
    process.exitCode = 2;
    return;
  }
  complain(what.fault.message);
  process.exitCode = FAULT_ANSWERS[what.fault.code].exit;
}

function announce(running: Running): void {
  const { address, practice, patients, demo, setUp } = running;
  say(`${practice.name}, ${practice.mode === 'demo' ? 'demonstration with invented people' : 'live'}`);
  say(`Desk: ${address}`);
  if (running.isOpen && !running.isSecure) {
    say(
      'It listens beyond this machine without HTTPS: passwords can be read on the way. Put HTTPS in front and set PUBLIC_URL.',
    );
  }
  say(`Patients on record: ${patients}.`);
  if (demo !== null) {
    say(`Sign-ins of the demonstration, all with the password ${demo.password}`);
    for (const { id, name, role } of demo.people) say(`  ${id} (${name}, ${role})`);
  }
  if (demo !== null) say(`The clinicians’ PIN, for the links that page them: ${demo.pin}`);
  if (setUp !== null) say(`Nobody administers this desk yet. Within a day, set it up once at: ${setUp}`);
  if (practice.mode === 'live' && patients === 0) {
    say('No patient is on record yet; every call runs on the short script for unknown callers.');
  }
  for (const line of running.unsigned) say(line);
  say('This supports and never replaces clinical judgement.');
}

function stopOnSignal(running: Running): void {
  let stopping = false;
  const stop = (): void => {
    if (stopping) return;
    stopping = true;
    void running.close().then(() => {
      say('Stopped; everything that was acknowledged is kept.');
    });
  };
  process.on('SIGINT', stop);
  process.on('SIGTERM', stop);
}

const config = readConfig();
if (config.ok) {
  const log = pino({ level: 'info', base: null }, destination({ dest: 2, sync: true }));
  const running = await start({ config: config.value, flows: FLOWS, clock: systemClock, log });
  if (running.ok) {
    announce(running.value);
    stopOnSignal(running.value);
  } else {
    refuse(running.fault);
  }
} else {
  refuse({ content: null, fault: config.fault });
}

/** Command: runs recorded or invented calls through the real machine and checks what they expect. */
import { Command } from 'commander';
import { openMemory } from '../store/memory.ts';
import { newKey } from '../store/sealing.ts';
import { systemClock } from '../basics/system-clock.ts';
import { showDiagnostic } from '../content/diagnostic.ts';
import { loadContent } from '../server/content.ts';
import { turnDeps } from '../server/compose.ts';
import { playCall, type Played } from './play-call.ts';
import { readCalls, type FoundCall } from './read-calls.ts';
import { screen } from './screen.ts';
import { shortfalls } from './shortfalls.ts';

const program = new Command('replay')
  .argument('<files...>', 'demo calls: .yaml (one call each) or .jsonl (one call a line)')
  .option('--json', 'print one object a line')
  .option('--no-opening', 'leave the opening out: every fact is asked for')
  .exitOverride((error) => {
    screen.exit(error.exitCode === 0 ? 0 : 2);
    throw error;
  });

interface Options {
  readonly json?: true;
  readonly opening: boolean;
}

async function main(): Promise<void> {
  program.parse();
  const options = program.opts<Options>();
  const content = loadContent('flows');
  if (!content.ok) {
    for (const diagnostic of content.fault) screen.error(showDiagnostic(diagnostic));
    return screen.exit(2);
  }
  const calls = readCalls(program.args);
  if (!calls.ok) {
    screen.error(calls.fault.message);
    return screen.exit(2);
  }
  const store = openMemory({ practiceKey: newKey() });
  const deps = turnDeps(content.value, store, systemClock);
  const playing = { withOpening: options.opening, callerNumber: content.value.practice.telephones.text };
  let failures = 0;
  for (const found of calls.value) {
    const played = await playCall(deps, found.call, playing);
    if (!played.ok) {
      screen.error(`${found.place}: ${played.fault.message}.`);
      return screen.exit(2);
    }
    const missed = shortfalls(found.call, played.value);
    if (missed.length > 0) failures += 1;
    screen.line(
      options.json === true ? asJson(found, played.value, missed) : asText(found, played.value, missed),
    );
  }
  if (options.json !== true) {
    screen.line(`${calls.value.length - failures} of ${calls.value.length} calls as expected`);
  }
  screen.exit(failures > 0 ? 1 : 0);
}

function nameOf({ call, place }: FoundCall): string {
  return call.title ?? (call.id === undefined ? place : String(call.id));
}

function asJson(found: FoundCall, played: Played, missed: readonly string[]): string {
  const { call } = found;
  const { standing, runner } = played.done;
  const { assessment, context } = standing;
  return JSON.stringify({
    ...(call.id === undefined ? {} : { id: call.id }),
    ...(call.title === undefined ? {} : { title: call.title }),
    outcome: assessment.outcome.outcome,
    within: assessment.outcome.within,
    emergency: assessment.outcome.emergency,
    concerns: assessment.concerns,
    act: assessment.act,
    redFlags: assessment.redFlags,
    asked: context.asked,
    findings: Object.fromEntries(Object.entries(context.held).map(([id, held]) => [id, held.value])),
    reasons: assessment.reasons.map(({ text }) => text),
    flow: `${runner.compiled.flow.id}@${runner.compiled.hash}`,
    questions: context.asked.length,
    misread: played.misread,
    neverAsked: played.neverAsked,
    pass: call.expect === undefined ? null : missed.length === 0,
  });
}

function asText(found: FoundCall, played: Played, missed: readonly string[]): string {
  const { outcome } = played.done.standing.assessment;
  const { reasons } = played.done.standing.assessment;
  const sign = found.call.expect === undefined ? ' -- ' : missed.length === 0 ? 'good' : 'FELL SHORT';
  const within = outcome.emergency ? 'emergency' : outcome.within;
  const lines = [
    `${sign}  ${nameOf(found)}: ${outcome.outcome}, ${within}, ${played.done.standing.context.asked.length} questions`,
  ];
  if (missed.length > 0) {
    lines.push(`      ${missed.join('; ')}`);
    lines.push(
      ...reasons
        .slice(0, 4)
        .map(({ text, from, points }) => `      ${from}${points > 0 ? ` (${points})` : ''}: ${text}`),
    );
  }
  if (played.neverAsked.length > 0) lines.push(`      never asked: ${played.neverAsked.join(', ')}`);
  return lines.join('\n');
}

await main().catch((error: unknown) => {
  if (error instanceof Error && error.name === 'CommanderError') return;
  throw error;
});

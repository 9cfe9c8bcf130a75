/** Command: a whole call in the terminal, through the same door as the desk. */
import { Command } from 'commander';
import { systemClock } from '../basics/system-clock.ts';
import { newId, type CallId } from '../basics/ids.ts';
import { showDiagnostic } from '../content/diagnostic.ts';
import type { TurnInput } from '../call/input.ts';
import { hear, hearWords } from '../call/hear.ts';
import type { FindingValue } from '../clinical/finding.ts';
import { turn, type TurnDeps, type TurnDone } from '../call/turn.ts';
import { loadContent } from '../server/content.ts';
import { turnDeps } from '../server/compose.ts';
import { openMemory } from '../store/memory.ts';
import { newKey } from '../store/sealing.ts';
import { timeOf } from './demo-call.ts';
import { readTyped, type Listen } from './read-typed.ts';
import { screen, type Lines } from './screen.ts';
import { showOutcome, showQuestion, showWhy } from './show.ts';

const program = new Command('call')
  .requiredOption('--procedure <id...>', 'the operation; several ids for one combined operation')
  .option('--surgeon <name>', 'whose own rules apply, by name or id')
  .option('--day <n>', 'days since surgery (0 is the day itself)', Number)
  .option('--hours <n>', 'hours since surgery, in the first 72', Number)
  .option('--closed', 'the clinic cannot see anyone today')
  .exitOverride((error) => {
    screen.exit(error.exitCode === 0 ? 0 : 2);
    throw error;
  });

interface Options {
  readonly procedure: readonly string[];
  readonly surgeon?: string;
  readonly day?: number;
  readonly hours?: number;
  readonly closed?: true;
}

const HELP =
  'Answer in words or by number. Also: back, why, correct <question>, say <what the caller adds>, note <text>, stop.';

async function main(): Promise<void> {
  program.parse();
  const options = program.opts<Options>();
  const content = loadContent('flows');
  if (!content.ok) {
    for (const diagnostic of content.fault) screen.error(showDiagnostic(diagnostic));
    return screen.exit(2);
  }
  const time = timeOf({
    ...(options.day === undefined ? {} : { day: options.day }),
    ...(options.hours === undefined ? {} : { hoursSince: options.hours }),
  });
  if (!time.ok || [options.day, options.hours].some((given) => Number.isNaN(given))) {
    screen.error(`--day and --hours: ${time.ok ? 'a number is accepted' : time.fault.message}.`);
    return screen.exit(2);
  }
  const unknown = options.procedure.filter((id) => !content.value.library.procedures.includes(id));
  if (unknown.length > 0) {
    screen.line(
      `No script for ${unknown.join(', ')}; the general script runs. Known: ${content.value.library.procedures.join(', ')}.`,
    );
  }
  const deps = turnDeps(content.value, openMemory({ practiceKey: newKey() }), systemClock);
  const talk = makeTalk(deps, screen.lines());
  await talk.send({ kind: 'start', channel: 'terminal', direction: 'patient-rang', callerNumber: null });
  await talk.send({
    kind: 'operation',
    operation: {
      procedures: [...options.procedure],
      ...(options.surgeon === undefined ? {} : { surgeon: options.surgeon }),
      times: [time.value],
      clinic: options.closed === true ? 'closed' : 'open',
      earlierCalls: [],
      known: {},
      facts: {},
    },
  });
  screen.line(content.value.library.general.flow.words.greeting);
  screen.line(HELP);
  const opening = await talk.ask('What does the caller say first? (Enter: nothing yet)\n> ');
  if (opening !== null && opening.trim() !== '') await talk.send({ kind: 'opening', text: opening });
  await converse(talk);
}

interface Talk {
  readonly send: (input: TurnInput) => Promise<boolean>;
  /** Sends and lets the conversation show what came of it. */
  readonly submit: (input: TurnInput) => Promise<void>;
  readonly ask: (prompt: string) => Promise<string | null>;
  readonly hear: (text: string) => Readonly<Record<string, FindingValue>>;
  readonly listen: Listen;
  readonly now: () => TurnDone;
}

function makeTalk(deps: TurnDeps, lines: Lines): Talk {
  const call = newId<CallId>();
  let sent = 0;
  let last: TurnDone | null = null;
  const send = async (input: TurnInput): Promise<boolean> => {
    sent += 1;
    const done = await turn(deps, { call, token: `turn-${sent}`, by: 'terminal', input });
    if (done.ok) last = done.value;
    else screen.line(done.fault.message);
    return done.ok;
  };
  return {
    send,
    submit: async (input) => {
      await send(input);
    },
    ask: (prompt) => lines.ask(prompt),
    hear: (text) => (last === null ? {} : hear(deps.hearing, last.runner.compiled.flow, text)),
    listen: (asked, text) => {
      if (last === null) return { findings: [], danger: false, understood: false };
      return hearWords(deps.hearing, last.runner.compiled.flow, { text, asked, day: null, confidence: 1 });
    },
    now: () => {
      if (last === null) throw new Error('The call has not begun.');
      return last;
    },
  };
}

async function converse(talk: Talk): Promise<void> {
  let flags = 0;
  for (;;) {
    const { standing, runner } = talk.now();
    const { redFlags } = standing.assessment;
    if (redFlags.length > flags && standing.at === 'asking') {
      screen.line(`\nRED FLAG: ${redFlags.join(', ')}. ${standing.assessment.untilSeen.join(' ')}`);
    }
    flags = redFlags.length;
    if (standing.at !== 'asking') return finish(talk);
    screen.line(showQuestion(standing));
    const typed = await talk.ask('> ');
    if (typed === null || typed.trim() === 'stop') {
      await talk.send({ kind: 'cut-off', how: typed === null ? 'hung-up' : 'stopped' });
      continue;
    }
    await handle(talk, typed.trim(), runner.compiled.flow.id);
  }
}

async function handle(talk: Talk, typed: string, flowId: string): Promise<void> {
  const { standing, runner } = talk.now();
  const { question } = standing;
  const [command = '', ...rest] = typed.split(/\s+/);
  const text = rest.join(' ');
  if (question === null) return;
  if (command === 'back') return talk.submit({ kind: 'back' });
  if (command === 'why') return screen.line(showWhy(question));
  if (command === 'help') return screen.line(`${HELP}\nScript: ${flowId}`);
  if (command === 'note' && text !== '') return talk.submit({ kind: 'note', text });
  if (command === 'correct' && text !== '') return talk.submit({ kind: 'reopen', question: text });
  if (command === 'say' && text !== '') return volunteer(talk, text);
  if (question.fact === 'opening') return talk.submit({ kind: 'opening', text: typed || '-' });
  if (question.fact !== null) {
    return talk.submit({ kind: 'fact', question: question.id, text: typed || '-' });
  }
  const [finding] = question.findings;
  const spec = finding === undefined ? null : (runner.compiled.flow.findings[finding] ?? null);
  const value = readTyped(question, question.kind === 'group' ? null : spec, typed, talk.listen);
  if (value === null) {
    // What was typed may be no answer and still say something, a danger above all.
    if (Object.keys(talk.hear(typed)).length > 0) return volunteer(talk, typed);
    return screen.line('That cannot be read as an answer; please ask again and pick one.');
  }
  const before = standing.context.held[finding ?? '']?.value;
  const correction = before === undefined ? null : await whichCorrection(talk);
  await talk.send({ kind: 'answer', question: question.id, value, correction });
}

/** What was understood is shown and counts only once it is confirmed. */
async function volunteer(talk: Talk, text: string): Promise<void> {
  const findings = talk.hear(text);
  const heard = Object.entries(findings).map(([id, value]) => `${id}=${value}`);
  if (heard.length === 0) {
    screen.line('Nothing in it is known to the script; it is kept as a note.');
    return talk.submit({ kind: 'note', text });
  }
  const typed = await talk.ask(`Understood: ${heard.join(', ')}. Right? (y/n) > `);
  if (typed?.trim().startsWith('y') === true) {
    await talk.send({ kind: 'volunteer', findings, words: text, correction: null });
  } else {
    await talk.send({ kind: 'note', text });
  }
}

async function whichCorrection(talk: Talk): Promise<'mis-keyed' | 'taken-back'> {
  const typed = await talk.ask('Was it mis-keyed (m), or does the caller take it back (t)? > ');
  return typed?.trim().startsWith('m') === true ? 'mis-keyed' : 'taken-back';
}

async function finish(talk: Talk): Promise<void> {
  screen.line(showOutcome(talk.now()));
  const told = await talk.ask('Said to the caller? (y/n) > ');
  if (told?.trim().startsWith('y') === true) await talk.send({ kind: 'tell' });
  if (talk.now().standing.assessment.outcome.outcome === 'urgent-escalation') {
    const name = await talk.ask('Accepted by which clinician? (Enter: nobody yet) > ');
    if (name !== null && name.trim() !== '') await talk.send({ kind: 'accept', clinician: name.trim() });
  }
  const understood = await talk.ask('Did the caller say it back rightly? (y/n) > ');
  const closed = await talk.send({
    kind: 'close',
    understood: understood?.trim().startsWith('y') === true,
    agreed: '',
  });
  screen.line(closed ? 'Closed.' : 'The call stays open.');
}

await main()
  .catch((error: unknown) => {
    if (error instanceof Error && error.name === 'CommanderError') return;
    throw error;
  })
  .finally(() => screen.done());

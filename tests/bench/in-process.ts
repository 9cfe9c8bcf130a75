/** What a turn is made of, without HTTP and without a store: a step of the machine, and the reading of an opening. */
import { assign, initialTransition, setup, transition } from 'xstate';
import type { MachineEvent } from '../../src/call/machine.ts';
import { begin, runnerOf, standingOf, step, type Runner } from '../../src/call/step.ts';
import type { Snapshot } from '../../src/call/snapshot.ts';
import { turnDeps } from '../../src/server/compose.ts';
import type { Content } from '../../src/server/content.ts';
import { systemClock } from '../../src/basics/system-clock.ts';
import { openMemory } from '../../src/store/memory.ts';
import { newKey } from '../../src/store/sealing.ts';
import { OPENINGS } from './calls.ts';
import { median, millisOf } from './stopwatch.ts';

const BATCHES = 20;
const CALLS_A_BATCH = 10;

/** Milliseconds of one answer: guard, change, choice of the next question; a call answered reassuringly to its end. */
export function machineStepMillis({ library }: Content): number {
  const runner = runnerOf(library.flowFor(['breast-lift']));
  playCall(runner);
  return perRun(() => playCall(runner));
}

function playCall(runner: Runner): number {
  let snapshot: Snapshot = begin(runner);
  for (let steps = 0; ; steps += 1) {
    const event = answerTo(runner, snapshot);
    if (event === null) return steps;
    const next = step(runner, snapshot, event);
    if (!next.ok) throw new Error('The machine refused an answer.');
    snapshot = next.value;
  }
}

function answerTo(runner: Runner, snapshot: Snapshot): MachineEvent | null {
  const { question } = standingOf(runner, snapshot);
  if (question === null) return null;
  if (question.fact === 'opening') return { type: 'OPENING', text: '-', findings: {} };
  if (question.fact !== null) return { type: 'FACT', question: question.id, text: '-' };
  const spec = runner.compiled.flow.findings[question.findings[0] ?? ''];
  const value = question.kind === 'group' ? 'no' : (spec?.normal ?? 'unsure');
  return { type: 'ANSWER', question: question.id, value, correction: 'mis-keyed' };
}

/** The same hub with as many questions, where a counter says what is next: what the engine itself costs. */
export function emptyHubMillis({ library }: Content): number {
  const { questions } = library.flowFor(['breast-lift']).flow;
  const hub = emptyHub(questions.length);
  const play = (): number => {
    let [snapshot] = initialTransition(hub);
    let steps = 0;
    for (; steps < 12; steps += 1) [snapshot] = transition(hub, snapshot, { type: 'ANSWER' });
    return steps;
  };
  play();
  return perRun(play);
}

function emptyHub(size: number) {
  const machine = setup({
    types: { context: {} as { readonly at: number }, events: {} as { readonly type: 'ANSWER' } },
    guards: { isNext: ({ context }, { n }: { n: number }) => context.at === n },
    actions: { next: assign(({ context }) => ({ at: context.at + 1 })) },
  });
  const ids = Array.from({ length: size }, (_none, n) => n);
  return machine.createMachine({
    context: { at: 0 },
    initial: 'choosing',
    states: {
      choosing: {
        always: ids.map((n) => ({ guard: { type: 'isNext' as const, params: { n } }, target: `ask-${n}` })),
      },
      ...Object.fromEntries(
        ids.map((n) => [`ask-${n}`, { on: { ANSWER: { actions: 'next' as const, target: 'choosing' } } }]),
      ),
    },
  });
}

export function understandingMillis(content: Content): number {
  const { hearing } = turnDeps(content, openMemory({ practiceKey: newKey() }), systemClock);
  const readAll = (): number => {
    for (const text of OPENINGS) {
      hearing.understand({ text, asked: null, procedure: null, day: null, confidence: 1 });
    }
    return OPENINGS.length;
  };
  readAll();
  return perRun(readAll);
}

/** Median over batches of the milliseconds that one of the counted things takes. */
function perRun(run: () => number): number {
  const batches = Array.from({ length: BATCHES }, () => {
    let count = 0;
    const millis = millisOf(() => {
      for (let n = 0; n < CALLS_A_BATCH; n += 1) count += run();
    });
    return millis / count;
  });
  return median(batches);
}

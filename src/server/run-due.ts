/** What the server does by itself: whatever is due, every few seconds and at once after a turn; a checkpoint a minute. */
import type { Logger } from 'pino';
import type { Clock } from '../basics/clock.ts';
import { every } from '../basics/system-clock.ts';
import type { CallStore, RecordChain } from '../call/call-store.ts';
import { sendOneDue, type DueDeps } from '../follow/send-due.ts';

export interface RunDeps {
  readonly chain: RecordChain;
  /** Null sends nothing; what is due waits for a process that does. */
  readonly due: DueDeps | null;
  readonly clock: Clock;
  readonly log: Logger;
}

const MINUTE = 60_000;
const TICK = 2_000;
/** A provider that answers slowly must not hold up the next page. */
const AT_ONCE = 4;

export interface RunDue {
  /** Something may be due now. */
  readonly wake: () => void;
  /** Stops, waits for what is under way, and takes a last checkpoint. */
  readonly stop: () => Promise<void>;
}

export function runDue(deps: RunDeps): RunDue {
  const checkpoints = oneAtATime(() => checkpoint(deps));
  const sending = oneAtATime(() => sendDue(deps));
  const stopTimers = [every(MINUTE, checkpoints.run), every(TICK, sending.run)];
  sending.run();
  return {
    wake: sending.run,
    stop: async () => {
      for (const stop of stopTimers) stop();
      await Promise.all([checkpoints.stop(), sending.stop()]);
      await checkpoint(deps);
    },
  };
}

interface Runs {
  /** Once more after the run under way, if there is one. */
  readonly run: () => void;
  readonly stop: () => Promise<void>;
}

function oneAtATime(task: () => Promise<void>): Runs {
  let running: Promise<void> | null = null;
  let again = false;
  let stopped = false;
  const run = (): void => {
    again = running !== null;
    if (running !== null || stopped) return;
    running = task().finally(() => {
      running = null;
      if (again) run();
    });
  };
  return {
    run,
    stop: async () => {
      stopped = true;
      await running;
    },
  };
}

/** All that is due, a few at once. A message that breaks stays claimed and comes again after its time-out. */
export async function sendDue({ due, log }: Pick<RunDeps, 'due' | 'log'>): Promise<void> {
  if (due === null) return;
  await Promise.all(Array.from({ length: AT_ONCE }, () => sendUntilNone(due, log)));
}

async function sendUntilNone(due: DueDeps, log: Logger): Promise<void> {
  try {
    for (;;) {
      const ran = await sendOneDue(due);
      if (ran === 'done') continue;
      if (ran === 'down') log.warn('What is due could not be sent: the store is down.');
      return;
    }
  } catch (error) {
    log.error({ kind: error instanceof Error ? error.name : typeof error }, 'Sending what is due broke.');
  }
}

/** A checkpoint that fails is tried again a minute later; the calls stay marked until then. */
export async function checkpoint({ chain, clock, log }: Omit<RunDeps, 'due'>): Promise<void> {
  try {
    const done = await chain.checkpoint(clock.now());
    if (!done.ok) log.warn('The checkpoint of the record chain could not be written.');
  } catch (error) {
    log.error({ kind: error instanceof Error ? error.name : typeof error }, 'The checkpoint broke.');
  }
}

/** The same store; after a turn that queued something, what is due is looked at. */
export function wakingStore(calls: CallStore, wake: () => void): CallStore {
  return {
    ...calls,
    commit: async (turn) => {
      const done = await calls.commit(turn);
      if (done.ok && turn.messages.length > 0) wake();
      return done;
    },
  };
}

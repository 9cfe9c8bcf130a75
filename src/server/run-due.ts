/** What the server does by itself, once a minute: a checkpoint of the record chain. */
import type { Logger } from 'pino';
import type { Clock } from '../basics/clock.ts';
import { every } from '../basics/system-clock.ts';
import type { RecordChain } from '../call/call-store.ts';

export interface DueDeps {
  readonly chain: RecordChain;
  readonly clock: Clock;
  readonly log: Logger;
}

const MINUTE = 60_000;

export interface RunDue {
  /** Stops, waits for what is under way, and takes a last checkpoint. */
  readonly stop: () => Promise<void>;
}

export function runDue(deps: DueDeps): RunDue {
  let running: Promise<void> | null = null;
  const run = (): void => {
    running ??= checkpoint(deps).finally(() => {
      running = null;
    });
  };
  const stopTimer = every(MINUTE, run);
  return {
    stop: async () => {
      stopTimer();
      await running;
      await checkpoint(deps);
    },
  };
}

/** A checkpoint that fails is tried again a minute later; the calls stay marked until then. */
export async function checkpoint({ chain, clock, log }: DueDeps): Promise<void> {
  try {
    const done = await chain.checkpoint(clock.now());
    if (!done.ok) log.warn('The checkpoint of the record chain could not be written.');
  } catch (error) {
    log.error({ kind: error instanceof Error ? error.name : typeof error }, 'The checkpoint broke.');
  }
}

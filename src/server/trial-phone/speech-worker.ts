/** Speaks one text into a sound file, in a thread of its own: the server answers calls meanwhile. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { WASI } from 'node:wasi';
import { parentPort, workerData } from 'node:worker_threads';

/** The part of the WebAssembly interface (W3C) that speaking needs; Node has it, and its types do not. */
interface Assembly {
  readonly compile: (bytes: Uint8Array) => Promise<object>;
  readonly instantiate: (program: object, imports: object) => Promise<object>;
}
const assembly = Reflect.get(globalThis, 'WebAssembly') as Assembly;

/** Where the speaking program stands; given by whoever begins the thread. */
const compiled = assembly.compile(readFileSync(String(workerData)));
const VOICE = 'slt';

export interface Wanted {
  readonly id: number;
  readonly text: string;
}

export interface Spoken {
  readonly id: number;
  /** A WAV file; null when it could not be spoken. */
  readonly wav: Uint8Array | null;
}

async function speak(text: string): Promise<Uint8Array | null> {
  const folder = mkdtempSync(join(tmpdir(), 'trial-phone-'));
  try {
    const wasi = new WASI({
      version: 'preview1',
      args: ['flite', '-voice', VOICE, '-t', text, '-o', '/out/said.wav'],
      preopens: { '/out': folder },
      returnOnExit: true,
    });
    const program = await assembly.instantiate(await compiled, wasi.getImportObject());
    const code = wasi.start(program);
    return code === 0 ? new Uint8Array(readFileSync(join(folder, 'said.wav'))) : null;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

parentPort?.on('message', ({ id, text }: Wanted) => {
  void speak(text).then(
    (wav) => parentPort?.postMessage({ id, wav } satisfies Spoken),
    () => parentPort?.postMessage({ id, wav: null } satisfies Spoken),
  );
});

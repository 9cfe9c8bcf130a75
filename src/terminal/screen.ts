/** The only file that writes to the terminal, reads from it, and ends the process. */
import { createInterface, type Interface } from 'node:readline';

export interface Lines {
  /** The next line typed; null when the input has ended. */
  readonly ask: (prompt: string) => Promise<string | null>;
}

let reader: Interface | null = null;

// Whoever reads the output may stop early; that ends the command and is no fault of it.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit();
  throw error;
});

export const screen = {
  line: (text: string): void => void process.stdout.write(`${text}\n`),
  error: (text: string): void => void process.stderr.write(`${text}\n`),
  exit: (code: 0 | 1 | 2): void => {
    process.exitCode = code;
  },
  /** Reads line by line; a pipe and a keyboard behave the same. */
  lines: (): Lines => {
    reader = createInterface({ input: process.stdin });
    const iterator = reader[Symbol.asyncIterator]();
    return {
      ask: async (prompt) => {
        process.stdout.write(prompt);
        const next = await iterator.next();
        return next.done === true ? null : next.value;
      },
    };
  },
  done: (): void => reader?.close(),
};

/** The only file that writes to the terminal, reads from it, and ends the process. */
export const screen = {
  line: (text: string): void => void process.stdout.write(`${text}\n`),
  error: (text: string): void => void process.stderr.write(`${text}\n`),
  exit: (code: 0 | 1 | 2): void => {
    process.exitCode = code;
  },
};

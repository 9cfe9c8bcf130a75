/** The only file that asks the machine for the time, and that waits for it. */
import type { Clock } from './clock.ts';

export const systemClock: Clock = { now: () => Date.now() };

/** Runs a task again and again until the answer is called; it alone does not keep the program running. */
export function every(millis: number, task: () => void): () => void {
  const timer = setInterval(task, millis);
  timer.unref();
  return () => clearInterval(timer);
}

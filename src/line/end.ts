/** How a call ends on the line: never without what to do, and in the demonstration with the emergency number. */
import type { LineDeps } from './deps.ts';
import type { Spoken } from './spoken.ts';
import { filled } from './words.ts';

export function names({ voice, practice }: LineDeps): Readonly<Record<string, string>> {
  return { emergency: voice.emergency, practice: practice.name };
}

export function end(deps: LineDeps, say: readonly string[]): Spoken {
  const { words, practice } = deps;
  const demo = practice.mode === 'demo' ? [filled(words.goodbyeDemonstration, names(deps))] : [];
  return { say: [...say, words.goodbye, ...demo], then: { kind: 'end' } };
}

/** Compiles sayings into patterns and finds where they stand in folded words; whole words only. */
import { foldWords, type Word } from './fold-words.ts';

/** A place in what was said: from the first word to the word after the last. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** Each element is the set of runs of words that may stand there. A gap leaves room for some further words. */
type Element =
  | { readonly kind: 'gap'; readonly widest: number }
  | { readonly kind: 'runs'; readonly runs: readonly Run[] };
type Run = readonly string[];

export interface Pattern<TMeans> {
  readonly means: TMeans;
  readonly elements: readonly Element[];
}

export type Classes = Readonly<Record<string, readonly string[]>>;

/** Patterns by the words with which they can begin. */
export type PatternIndex<TMeans> = ReadonlyMap<string, readonly Pattern<TMeans>[]>;

export interface Match<TMeans> extends Span {
  readonly means: TMeans;
  /** The words that were said where the pattern leaves room. */
  readonly gaps: readonly Span[];
  /** The words that carry the meaning, without what they are only said of. */
  readonly core: Span;
}

const WIDEST_GAP = 5;
const SMALL_GAP = 2;

export interface Saying<TMeans> {
  readonly says: string;
  readonly means: TMeans;
}

export function indexPatterns<TMeans>(
  sayings: readonly Saying<TMeans>[],
  classes: Classes,
): PatternIndex<TMeans> {
  const byFirst = new Map<string, Pattern<TMeans>[]>();
  for (const { says, means } of sayings) {
    for (const order of ordersOf(says)) {
      const elements = elementsOf(order, classes);
      const [first] = elements;
      if (first?.kind !== 'runs') continue;
      for (const word of new Set(first.runs.map(([head = '']) => head))) {
        const same = byFirst.get(word) ?? [];
        same.push({ means, elements });
        byFirst.set(word, same);
      }
    }
  }
  return byFirst;
}

/** "a & b" stands for "a ... b" and "b ... a". */
function ordersOf(says: string): readonly string[] {
  const sides = says.split(' & ');
  if (sides.length === 1) return [says];
  return [sides.join(' ... '), [...sides].reverse().join(' ... ')];
}

function elementsOf(says: string, classes: Classes): readonly Element[] {
  return says.split(' ').flatMap((token): readonly Element[] => {
    if (token === '...') return [{ kind: 'gap', widest: WIDEST_GAP }];
    if (token === '..') return [{ kind: 'gap', widest: SMALL_GAP }];
    if (token.startsWith('@')) return [{ kind: 'runs', runs: runsOf(token.slice(1), classes) }];
    const run = foldWords(token).map(({ text }) => text);
    return run.length === 0 ? [] : [{ kind: 'runs', runs: [run] }];
  });
}

/** Every way to say a member of a class, longest first; a member "@name" stands for that whole class. */
export function runsOf(name: string, classes: Classes): readonly Run[] {
  const members = membersOf(name, classes, []);
  const runs = members.map((member) => foldWords(member).map(({ text }) => text));
  return runs.sort((one, other) => other.length - one.length);
}

/** A class inside itself adds nothing. */
function membersOf(name: string, classes: Classes, inside: readonly string[]): readonly string[] {
  if (inside.includes(name)) return [];
  return (classes[name] ?? []).flatMap((member) =>
    member.startsWith('@') ? membersOf(member.slice(1), classes, [...inside, name]) : [member],
  );
}

/** Every place where a pattern stands, in the order of the words. */
export function findPatterns<TMeans>(
  index: PatternIndex<TMeans>,
  words: readonly Word[],
): readonly Match<TMeans>[] {
  return words.flatMap((word, at) =>
    (index.get(word.text) ?? []).flatMap((pattern) => {
      const found = fit({ elements: pattern.elements, words, start: at }, 0, at);
      if (found === null) return [];
      return [{ means: pattern.means, start: at, ...found, core: { start: at, end: found.end } }];
    }),
  );
}

interface Fitting {
  readonly elements: readonly Element[];
  readonly words: readonly Word[];
  readonly start: number;
}

interface Fitted {
  readonly end: number;
  readonly gaps: readonly Span[];
}

/** The shortest way in which the pattern fits from this word on; null when it does not fit. */
function fit(fitting: Fitting, element: number, at: number): Fitted | null {
  const { elements, words, start } = fitting;
  const next = elements[element];
  if (next === undefined) return { end: at, gaps: [] };
  if (next.kind === 'runs') {
    for (const run of next.runs) {
      if (!fits(words, at, run)) continue;
      const rest = fit(fitting, element + 1, at + run.length);
      if (rest !== null) return rest;
    }
    return null;
  }
  // Words that were left room for must belong to the same thought; a phrase said in full may hold a "but".
  const clause = words[start]?.clause;
  for (let to = at; to <= at + next.widest; to += 1) {
    if (words[to]?.clause !== clause) return null;
    const rest = fit(fitting, element + 1, to);
    if (rest !== null)
      return to > at ? { end: rest.end, gaps: [{ start: at, end: to }, ...rest.gaps] } : rest;
  }
  return null;
}

function fits(words: readonly Word[], from: number, run: Run): boolean {
  return run.every((text, at) => words[from + at]?.text === text);
}

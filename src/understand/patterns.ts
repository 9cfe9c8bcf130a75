/** Compiles sayings into patterns and finds where they stand in folded words; whole words only. */
import { APOSTROPHE } from './expressions.ts';
import { foldWords, type Word } from './fold-words.ts';

/** A place in what was said: from the first word to the word after the last. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** Each element is the set of runs of words that may stand there. A gap leaves room for some further words. */
type Element =
  | { readonly kind: 'gap'; readonly widest: number }
  | { readonly kind: 'runs'; readonly runs: readonly Run[]; readonly heads: ReadonlySet<string> };
type Run = readonly string[];

interface Pattern<TMeans> {
  readonly means: TMeans;
  readonly elements: readonly Element[];
  /** The words with which it can begin. */
  readonly heads: ReadonlySet<string>;
  /** For each further part the words with which that can begin: one of them must have been said. */
  readonly needs: readonly ReadonlySet<string>[];
}

export type Classes = Readonly<Record<string, readonly string[]>>;

/** Patterns by the words of their rarest part: only what holds one of these can fit. */
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
  const patterns = compile(sayings, classes);
  const often = countHeads(patterns);
  const index = new Map<string, Pattern<TMeans>[]>();
  for (const pattern of patterns) {
    for (const word of rarestOf([pattern.heads, ...pattern.needs], often)) {
      const same = index.get(word) ?? [];
      same.push(pattern);
      index.set(word, same);
    }
  }
  return index;
}

function compile<TMeans>(sayings: readonly Saying<TMeans>[], classes: Classes): readonly Pattern<TMeans>[] {
  const known = new Map<string, Element>();
  return sayings.flatMap(({ says, means }) =>
    ordersOf(says).flatMap((order): readonly Pattern<TMeans>[] => {
      const elements = elementsOf(order, classes, known);
      const [heads, ...needs] = elements.flatMap((one) => (one.kind === 'runs' ? [one.heads] : []));
      return heads === undefined || elements[0]?.kind !== 'runs' ? [] : [{ means, elements, heads, needs }];
    }),
  );
}

function countHeads(patterns: readonly Pattern<unknown>[]): ReadonlyMap<string, number> {
  const often = new Map<string, number>();
  for (const { heads, needs } of patterns) {
    for (const set of [heads, ...needs]) for (const word of set) often.set(word, (often.get(word) ?? 0) + 1);
  }
  return often;
}

/** The part whose words the fewest patterns hold; common words are held by many. */
function rarestOf(
  sets: readonly ReadonlySet<string>[],
  often: ReadonlyMap<string, number>,
): ReadonlySet<string> {
  const weight = (set: ReadonlySet<string>): number =>
    [...set].reduce((sum, word) => sum + (often.get(word) ?? 0), 0);
  return sets.reduce((best, set) => (weight(set) < weight(best) ? set : best));
}

/** "a & b" stands for "a ... b" and "b ... a". */
function ordersOf(says: string): readonly string[] {
  const sides = says.split(' & ');
  if (sides.length === 1) return [says];
  return [sides.join(' ... '), [...sides].reverse().join(' ... ')];
}

function elementsOf(says: string, classes: Classes, known: Map<string, Element>): readonly Element[] {
  return says.split(' ').flatMap((token): readonly Element[] => {
    if (token === '...') return [{ kind: 'gap', widest: WIDEST_GAP }];
    if (token === '..') return [{ kind: 'gap', widest: SMALL_GAP }];
    const made = known.get(token);
    if (made !== undefined) return [made];
    // "@relative's" is the class as it is; what the apostrophe joins on is left out of all words.
    const name = token.startsWith('@') ? token.slice(1).split(APOSTROPHE)[0] : undefined;
    const runs = name === undefined ? [wordsOf(token)] : runsOf(name, classes);
    if (name === undefined && runs.every((run) => run.length === 0)) return [];
    const element: Element = { kind: 'runs', runs, heads: new Set(runs.flatMap(([head]) => head ?? [])) };
    known.set(token, element);
    return [element];
  });
}

function wordsOf(text: string): Run {
  return foldWords(text).map((word) => word.text);
}

/** Every way to say a member of a class, longest first; a member "@name" stands for that whole class. */
function runsOf(name: string, classes: Classes): readonly Run[] {
  const members = membersOf(name, classes, []);
  const runs = members.map(wordsOf).filter((run) => run.length > 0);
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
  const said = placesOf(words);
  const near = new Set<Pattern<TMeans>>();
  for (const word of said.keys()) {
    for (const pattern of index.get(word) ?? []) if (canFit(pattern, said)) near.add(pattern);
  }
  const found: Match<TMeans>[] = [];
  for (const pattern of near) {
    for (const at of startsOf(pattern, said)) {
      const fitted = fit({ elements: pattern.elements, words, start: at }, 0, at);
      if (fitted === null) continue;
      found.push({ means: pattern.means, start: at, ...fitted, core: { start: at, end: fitted.end } });
    }
  }
  return found.sort((one, other) => one.start - other.start);
}

/** Where each word stands. */
type Places = ReadonlyMap<string, readonly number[]>;

function placesOf(words: readonly Word[]): Places {
  const places = new Map<string, number[]>();
  for (const [at, { text }] of words.entries()) {
    const same = places.get(text);
    if (same === undefined) places.set(text, [at]);
    else same.push(at);
  }
  return places;
}

function startsOf({ heads }: Pattern<unknown>, said: Places): readonly number[] {
  const starts: number[] = [];
  if (heads.size <= said.size) for (const head of heads) starts.push(...(said.get(head) ?? []));
  else for (const [word, places] of said) if (heads.has(word)) starts.push(...places);
  return starts;
}

function canFit({ heads, needs }: Pattern<unknown>, said: Places): boolean {
  return isAnySaid(heads, said) && needs.every((set) => isAnySaid(set, said));
}

function isAnySaid(set: ReadonlySet<string>, said: Places): boolean {
  if (set.size <= said.size) for (const word of set) if (said.has(word)) return true;
  if (set.size > said.size) for (const word of said.keys()) if (set.has(word)) return true;
  return false;
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

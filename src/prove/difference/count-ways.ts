/**
 * Counts the combinations of answers that keep within given limits, exactly and without going through them: findings are
 * taken one by one, and of what was answered only that is kept which a later row still looks at, with the points so far.
 */
import type { Row } from '../tables.ts';
import { eliminationOrder } from './elimination-order.ts';

/** Points that may not reach a limit; a limit with rows counts only where one of them holds. */
export interface SumLimit {
  readonly rules: readonly { readonly rows: readonly Row[]; readonly points: number }[];
  readonly limits: readonly { readonly points: number; readonly when: readonly Row[] | null }[];
}

/** A finding that is reached only where its parent has one of these values. */
export interface OpenedBy {
  readonly child: number;
  readonly parent: number;
  readonly opens: readonly boolean[];
}

export interface Limits {
  /** Rows that may not hold. */
  readonly forbidden: readonly Row[];
  readonly sums: readonly SumLimit[];
}

export interface Answers {
  /** By finding that can be answered, how many answers: not reached first, then each class of its values. */
  readonly weights: ReadonlyMap<number, readonly bigint[]>;
  readonly opened: readonly OpenedBy[];
}

/** What is looked at once its last finding is answered. */
type Factor =
  | { readonly kind: 'forbid'; readonly findings: readonly number[]; readonly row: Row }
  | { readonly kind: 'open'; readonly findings: readonly number[]; readonly link: OpenedBy }
  | {
      readonly kind: 'points';
      readonly findings: readonly number[];
      readonly sum: number;
      readonly rows: readonly Row[];
      readonly points: number;
    }
  | {
      readonly kind: 'when';
      readonly findings: readonly number[];
      readonly sum: number;
      readonly limit: number;
      readonly row: Row;
    };

export interface Counter {
  readonly answers: Answers;
  /** Partial results that are kept at most at a time; past it a count is given up. */
  readonly mostStates: number;
  /** Partial results that may still be made; at 0 nothing that is not known is counted any more. */
  work: number;
  /** What was counted before, by the factors that it is made of. */
  readonly known: Map<string, bigint | null>;
}

export function counterOf(answers: Answers, mostStates: number): Counter {
  return { answers, mostStates, work: Infinity, known: new Map() };
}

/** Null: more partial results than allowed. */
export function countWays(counter: Counter, limits: Limits): bigint | null {
  const { weights } = counter.answers;
  let total = 1n;
  for (const part of connectedParts(counter.answers, limits)) {
    const ways =
      part.factors.length === 0 ? totalOf(weights, part.findings) : countPart(counter, limits, part);
    if (ways === null) return null;
    total *= ways;
  }
  return total;
}

function totalOf(weights: Answers['weights'], findings: readonly number[]): bigint {
  return findings.reduce((all, finding) => all * sumOf(weights.get(finding) ?? [1n]), 1n);
}

function sumOf(values: readonly bigint[]): bigint {
  return values.reduce((sum, value) => sum + value, 0n);
}

interface Part {
  readonly findings: readonly number[];
  readonly factors: readonly Factor[];
}

/** A row about a finding that nobody is asked for never holds. */
function factorsOf({ weights, opened }: Answers, { forbidden, sums }: Limits): readonly Factor[] {
  const isAsked = (row: Row): boolean => row.every(({ finding }) => weights.has(finding));
  // What asks for nothing holds from the first finding on.
  const [any = 0] = weights.keys();
  const findingsIn = (rows: readonly Row[]): readonly number[] => {
    const found = new Set(rows.flatMap((row) => row.map(({ finding }) => finding)));
    return found.size === 0 ? [any] : [...found];
  };
  return [
    ...forbidden.filter(isAsked).map((row): Factor => ({ kind: 'forbid', findings: findingsIn([row]), row })),
    ...opened.map((link): Factor => ({ kind: 'open', findings: [link.child, link.parent], link })),
    ...sums.flatMap(({ rules, limits }, sum): readonly Factor[] => [
      ...rules.flatMap(({ rows, points }): readonly Factor[] => {
        const own = rows.filter(isAsked);
        return own.length === 0
          ? []
          : [{ kind: 'points', findings: findingsIn(own), sum, rows: own, points }];
      }),
      ...limits.flatMap(({ when }, limit): readonly Factor[] =>
        (when ?? [])
          .filter(isAsked)
          .map((row) => ({ kind: 'when', findings: findingsIn([row]), sum, limit, row })),
      ),
    ]),
  ];
}

/** Findings that no row and no sum ties together are counted apart and multiplied. */
function connectedParts(answers: Answers, limits: Limits): readonly Part[] {
  const factors = factorsOf(answers, limits);
  const root = new Map<number, number>();
  const find = (at: number): number => {
    const up = root.get(at) ?? at;
    return up === at ? at : find(up);
  };
  const firstOfSum = new Map<number, number>();
  for (const factor of factors) {
    const [first = 0, ...others] = factor.findings;
    for (const other of others) root.set(find(other), find(first));
    if (factor.kind !== 'points' && factor.kind !== 'when') continue;
    const known = firstOfSum.get(factor.sum);
    if (known === undefined) firstOfSum.set(factor.sum, first);
    else root.set(find(first), find(known));
  }
  const parts = new Map<number, { findings: number[]; factors: Factor[] }>();
  const partOf = (finding: number): { findings: number[]; factors: Factor[] } => {
    const at = find(finding);
    const known = parts.get(at) ?? { findings: [], factors: [] };
    parts.set(at, known);
    return known;
  };
  for (const finding of answers.weights.keys()) partOf(finding).findings.push(finding);
  for (const factor of factors) partOf(factor.findings[0] ?? 0).factors.push(factor);
  return [...parts.values()];
}

function countPart(counter: Counter, limits: Limits, part: Part): bigint | null {
  const key = keyOf(limits, part);
  const known = counter.known.get(key);
  if (known !== undefined) return known;
  if (counter.work <= 0) return null;
  const ways = eliminate(counter, limits, part);
  // What was given up because the work came to its end may be tried again.
  if (ways !== null || counter.work > 0) counter.known.set(key, ways);
  return ways;
}

/** The factors by content; sums are named by their limits. */
function keyOf({ sums }: Limits, { factors }: Part): string {
  const rowText = (row: Row): string =>
    row.map(({ finding, holds }) => `${String(finding)}:${holds.map(Number).join('')}`).join('&');
  const texts = factors.map((factor) => {
    switch (factor.kind) {
      case 'forbid':
        return `f ${rowText(factor.row)}`;
      case 'open':
        return `o ${String(factor.link.child)} ${String(factor.link.parent)} ${factor.link.opens.map(Number).join('')}`;
      case 'points':
        return `p ${limitText(sums, factor.sum)} ${String(factor.points)} ${factor.rows.map(rowText).join('|')}`;
      case 'when':
        return `w ${limitText(sums, factor.sum)} ${String(factor.limit)} ${rowText(factor.row)}`;
    }
  });
  return texts.toSorted().join('\n');
}

function limitText(sums: Limits['sums'], sum: number): string {
  const limits = sums[sum]?.limits ?? [];
  return `${String(sum)}[${limits.map(({ points, when }) => `${String(points)}${when === null ? '' : '?'}`).join()}]`;
}

interface State {
  /** Values of the findings that a later factor looks at: 0 not reached, else the class and one. */
  readonly live: readonly number[];
  readonly sums: readonly number[];
  /** By sum, a bit for each of its limits whose rows hold. */
  readonly met: readonly number[];
  readonly ways: bigint;
}

function eliminate(counter: Counter, limits: Limits, part: Part): bigint | null {
  const { answers, mostStates } = counter;
  const order = eliminationOrder(
    part.findings,
    part.factors.map((factor) => ({ findings: factor.findings, sum: 'sum' in factor ? factor.sum : null })),
  );
  const place = new Map(order.map((finding, at) => [finding, at]));
  const lastOf = ({ findings }: Factor): number => Math.max(...findings.map((one) => place.get(one) ?? 0));
  const ending = order.map((): Factor[] => []);
  for (const factor of part.factors) ending[lastOf(factor)]?.push(factor);
  const lastUse = new Map<number, number>();
  const sumEnds = new Map<number, number>();
  for (const factor of part.factors) {
    const last = lastOf(factor);
    for (const one of factor.findings) lastUse.set(one, Math.max(lastUse.get(one) ?? 0, last));
    if (factor.kind === 'points' || factor.kind === 'when') {
      sumEnds.set(factor.sum, Math.max(sumEnds.get(factor.sum) ?? 0, last));
    }
  }
  const none = limits.sums.map(() => 0);
  let states: readonly State[] = [{ live: [], sums: none, met: none, ways: 1n }];
  let live: readonly number[] = [];
  for (const [at, finding] of order.entries()) {
    const named = [...live, finding];
    const kept = named.filter((one) => (lastUse.get(one) ?? -1) > at);
    const ended = [...sumEnds].filter(([, end]) => end === at).map(([sum]) => sum);
    const next = advance(states, {
      named,
      kept,
      ended,
      factors: ending[at] ?? [],
      limits,
      choices: choicesOf(answers.weights.get(finding) ?? [], finding, part.factors),
    });
    counter.work -= next.length;
    if (next.length > mostStates || counter.work <= 0) return null;
    states = next;
    live = kept;
  }
  return sumOf(states.map(({ ways }) => ways));
}

interface Advance {
  readonly named: readonly number[];
  readonly kept: readonly number[];
  readonly ended: readonly number[];
  readonly factors: readonly Factor[];
  readonly limits: Limits;
  readonly choices: readonly { readonly value: number; readonly weight: bigint }[];
}

function advance(states: readonly State[], step: Advance): readonly State[] {
  const { named, kept, ended, choices } = step;
  const places = new Map(named.map((finding, at) => [finding, at]));
  const keptAt = kept.map((finding) => places.get(finding) ?? 0);
  const merged = new Map<string, { state: State; ways: bigint }>();
  for (const state of states) {
    for (const { value, weight } of choices) {
      const values = [...state.live, value];
      const after = applied(state, step, (finding) => values[places.get(finding) ?? -1] ?? 0);
      if (after === null || !isWithin(after, step)) continue;
      const sums = after.sums.map((sum, at) => (ended.includes(at) ? 0 : sum));
      const met = after.met.map((bits, at) => (ended.includes(at) ? 0 : bits));
      const live = keptAt.map((at) => values[at] ?? 0);
      const key = `${live.join()};${sums.join()};${met.join()}`;
      const known = merged.get(key);
      const ways = state.ways * weight;
      if (known === undefined) merged.set(key, { state: { live, sums, met, ways }, ways });
      else known.ways += ways;
    }
  }
  return [...merged.values()].map(({ state, ways }) => ({ ...state, ways }));
}

type Running = Pick<State, 'sums' | 'met'>;

/** Null: a row that may not hold, a finding that is not open, or points that reach a limit without conditions. */
function applied(
  state: State,
  { factors, limits }: Advance,
  valueOf: (finding: number) => number,
): Running | null {
  let sums = state.sums;
  let met = state.met;
  for (const factor of factors) {
    switch (factor.kind) {
      case 'forbid':
        if (holds(factor.row, valueOf)) return null;
        break;
      case 'open': {
        const { child, parent, opens } = factor.link;
        if (valueOf(child) > 0 && opens[valueOf(parent) - 1] !== true) return null;
        break;
      }
      case 'points': {
        if (!factor.rows.some((row) => holds(row, valueOf))) break;
        const own = limits.sums[factor.sum]?.limits ?? [];
        const most = Math.max(...own.map(({ points }) => points));
        const sum = Math.min(most, (sums[factor.sum] ?? 0) + factor.points);
        if (own.some(({ points, when }) => when === null && sum >= points)) return null;
        sums = sums.with(factor.sum, sum);
        break;
      }
      case 'when':
        if (holds(factor.row, valueOf))
          met = met.with(factor.sum, (met[factor.sum] ?? 0) | (1 << factor.limit));
        break;
    }
  }
  return { sums, met };
}

/** Whether the sums that end here keep below their limits with conditions. */
function isWithin({ sums, met }: Running, { ended, limits }: Advance): boolean {
  return ended.every((at) =>
    (limits.sums[at]?.limits ?? []).every(
      ({ points }, limit) => (sums[at] ?? 0) < points || ((met[at] ?? 0) & (1 << limit)) === 0,
    ),
  );
}

function holds(row: Row, valueOf: (finding: number) => number): boolean {
  return row.every((cell) => {
    const value = valueOf(cell.finding);
    return value > 0 && cell.holds[value - 1] === true;
  });
}

/** The values of a finding that these factors tell apart, each with the number of answers that it stands for. */
function choicesOf(
  weights: readonly bigint[],
  finding: number,
  factors: readonly Factor[],
): Advance['choices'] {
  const readings: ((value: number) => boolean)[] = factors
    .filter(({ findings }) => findings.includes(finding))
    .flatMap((factor) => {
      if (factor.kind === 'open') {
        const { child, opens } = factor.link;
        return [(value: number) => (child === finding ? value > 0 : opens[value - 1] === true)];
      }
      const rows = factor.kind === 'points' ? factor.rows : [factor.row];
      return rows
        .flat()
        .filter((cell) => cell.finding === finding)
        .map((cell) => (value: number) => cell.holds[value - 1] === true);
    });
  const alike = new Map<string, { value: number; weight: bigint }>();
  for (const [value, weight] of weights.entries()) {
    const key = readings.map((reads) => (reads(value) ? '1' : '0')).join('');
    const known = alike.get(key);
    if (known === undefined) alike.set(key, { value, weight });
    else known.weight += weight;
  }
  return [...alike.values()];
}

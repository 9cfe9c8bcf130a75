/** What the cheap check has shown already: flows share most of their rules, and the same rules need to be compared once. */
import { canonicalJson } from '../basics/json.ts';
import type { Flow, Rule } from '../flow/compiled.ts';
import { domainOf, type Domain } from './domain.ts';
import type { Moment } from './tables.ts';
import type { KnownWindows } from './times.ts';

export interface Memory {
  /** The answers of all flows that are proved with this memory. */
  readonly domain: Domain;
  /** Numbers of texts, so that keys stay short, and of rules. */
  readonly numbers: Map<string, number>;
  readonly ruleNumbers: Map<Rule, number>;
  /** By pair of values and number of a rule, whether that rule by itself gives no less at the worse of the two. */
  readonly byRule: Map<string, Map<number, boolean>>;
  /** Results of the cheap check by everything that they depend on. */
  readonly plain: Map<string, boolean>;
  readonly windows: KnownWindows;
}

export function memoryOf(flows: readonly Flow[]): Memory {
  return {
    domain: domainOf(flows),
    numbers: new Map(),
    ruleNumbers: new Map(),
    byRule: new Map(),
    plain: new Map(),
    windows: new Map(),
  };
}

/** What is remembered under this key, or found out now and remembered. */
export function recall<TKey>(known: Map<TKey, boolean>, key: TKey, find: () => boolean): boolean {
  const before = known.get(key);
  if (before !== undefined) return before;
  const now = find();
  known.set(key, now);
  return now;
}

function numberOf({ numbers }: Memory, text: string): number {
  const known = numbers.get(text);
  if (known !== undefined) return known;
  numbers.set(text, numbers.size);
  return numbers.size - 1;
}

/** The number of each rule's conditions and concern; the effect at a moment is not part of it. */
export function ruleNumbers(memory: Memory, flow: Flow): readonly number[] {
  return flow.rules.map((rule) => {
    const known = memory.ruleNumbers.get(rule);
    if (known !== undefined) return known;
    const number = numberOf(memory, `${rule.effect.concern ?? ''} ${canonicalJson(rule.if)}`);
    memory.ruleNumbers.set(rule, number);
    return number;
  });
}

/** The number of everything in a flow's thresholds that answers can decide. */
export function thresholdsNumber(memory: Memory, flow: Flow): number {
  return numberOf(
    memory,
    canonicalJson(flow.concerns.map(({ thresholds }) => thresholds.map(({ when }) => when))),
  );
}

export interface Alike {
  /** What the rules that test a finding come to at these moments. */
  readonly signature: string;
  readonly moments: readonly Moment[];
}

/** The moments, by what the rules that test a finding come to. */
export function alikeMoments(
  own: readonly number[],
  moments: readonly Moment[],
  numbers: readonly number[],
): readonly Alike[] {
  const groups = new Map<string, Moment[]>();
  for (const moment of moments) {
    let signature = '';
    for (const at of own) {
      signature += `${String(numbers[at])}:${String(moment.ranks[at])}:${String(moment.points[at])},`;
    }
    const group = groups.get(signature);
    if (group === undefined) groups.set(signature, [moment]);
    else group.push(moment);
  }
  return [...groups].map(([signature, alike]) => ({ signature, moments: alike }));
}

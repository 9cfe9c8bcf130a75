/** How many combinations of answers a flow has: the number that a proof covers at each moment. */
import { canonicalJson } from '../basics/json.ts';
import { conditionHolds, findingsIn } from '../clinical/condition.ts';
import { UNSURE, type FindingId, type FindingSpec, type FindingValue } from '../clinical/finding.ts';
import type { Flow } from '../flow/compiled.ts';
import { countValues, distinctValues } from './values.ts';

/**
 * The product over all findings that some question settles of their values on the grid, unsure and not reached. A
 * finding that is asked only on certain answers to another multiplies only those.
 */
export function countCombinations(flow: Flow): bigint {
  const askable = new Set(flow.questions.flatMap(({ findings }) => findings));
  const specs = Object.values(flow.findings).filter(({ id }) => askable.has(id));
  const children = new Map<FindingId, FindingSpec[]>();
  const roots: FindingSpec[] = [];
  for (const spec of specs) {
    const parent = parentOf(spec, askable);
    if (parent === null) roots.push(spec);
    else children.set(parent, [...(children.get(parent) ?? []), spec]);
  }
  return product(roots.map((spec) => ways(spec, children)));
}

function parentOf(spec: FindingSpec, askable: ReadonlySet<FindingId>): FindingId | null {
  const [parent] = spec.when === null ? [] : findingsIn(spec.when);
  return parent !== undefined && askable.has(parent) ? parent : null;
}

type Children = ReadonlyMap<FindingId, readonly FindingSpec[]>;

const waysKnown = new WeakMap<FindingSpec, Map<string, bigint>>();

/** Flows share most of their findings with all that hangs on them. */
function ways(spec: FindingSpec, children: Children): bigint {
  const known = waysKnown.get(spec) ?? new Map<string, bigint>();
  waysKnown.set(spec, known);
  const below = textBelow(spec, children);
  const number = known.get(below) ?? waysNow(spec, children);
  known.set(below, number);
  return number;
}

/** Everything that hangs on a finding, as text. */
function textBelow({ id }: FindingSpec, children: Children): string {
  const below = children.get(id) ?? [];
  return below.map((child) => `${canonicalJson(child)}(${textBelow(child, children)})`).join();
}

/** The ways to answer a finding together with what its answers open. Not reached is one of them and opens nothing. */
function waysNow(spec: FindingSpec, children: Children): bigint {
  const below = children.get(spec.id) ?? [];
  const opens = (value: FindingValue): bigint =>
    product(
      below
        .filter(({ when }) => when !== null && conditionHolds(when, { [spec.id]: value }))
        .map((child) => ways(child, children)),
    );
  const notReached = 1n;
  if (spec.kind !== 'number') {
    return [...spec.values, UNSURE].reduce((sum, value) => sum + opens(value), notReached);
  }
  const runs = distinctValues(spec, below.flatMap(({ when }) => when ?? []).flat());
  const plain = runs.length === 2;
  // Numbers that open nothing differently are counted at once.
  const numbers = plain ? BigInt(countValues(spec)) * opens(runs[0] ?? UNSURE) : sumOver(spec, opens);
  return notReached + opens(UNSURE) + numbers;
}

function sumOver(spec: FindingSpec, opens: (value: FindingValue) => bigint): bigint {
  let sum = 0n;
  for (let at = 0; at < countValues(spec); at += 1) sum += opens((spec.min ?? 0) + at * spec.step);
  return sum;
}

function product(factors: readonly bigint[]): bigint {
  return factors.reduce((all, factor) => all * factor, 1n);
}

/** What a caller may have by chance: some of a flow's findings, about half of them usual, the others with any of their values. */
import {
  UNSURE,
  type FindingId,
  type FindingSpec,
  type FindingValue,
  type Findings,
} from '../../src/clinical/finding.ts';
import type { Flow } from '../../src/flow/compiled.ts';
import type { Seeded } from '../support/seeded.ts';

const MOST = 12;

export function randomFindings(flow: Flow, chance: Seeded): Findings {
  const specs = chance.shuffle(Object.values(flow.findings)).slice(0, chance.whole(1, MOST));
  return Object.fromEntries(specs.map((spec) => [spec.id, randomValue(spec, chance)]));
}

function randomValue(spec: FindingSpec, chance: Seeded): FindingValue {
  const kind = chance.next();
  if (kind < 0.05) return UNSURE;
  if (kind < 0.5) return spec.normal;
  if (spec.kind !== 'number') return chance.pick(spec.values);
  const steps = Math.round(((spec.max ?? 0) - (spec.min ?? 0)) / spec.step);
  return Number(((spec.min ?? 0) + chance.whole(0, steps) * spec.step).toFixed(1));
}

/** What of it a flow knows; a finding of another operation alone counts nothing there. */
export function knownTo(flow: Flow, findings: Findings): Findings {
  return Object.fromEntries(
    Object.entries(findings).filter(([id]: [FindingId, FindingValue]) => id in flow.findings),
  );
}

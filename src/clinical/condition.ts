/** Whether a condition holds for what is known; a finding that was not reached makes every test false. */
import type { Condition, FindingId, Findings, Test } from './finding.ts';

export function testHolds(test: Test, findings: Findings): boolean {
  const value = findings[test.finding];
  if (value === undefined) return false;
  if ('in' in test) return test.in.includes(value);
  if (typeof value !== 'number') return false;
  return 'atLeast' in test ? value >= test.atLeast : value <= test.atMost;
}

// Plain loops: every rule of a flow is tried several times a turn.
export function conditionHolds(condition: Condition, findings: Findings): boolean {
  for (const row of condition) if (rowHolds(row, findings)) return true;
  return false;
}

function rowHolds(row: Condition[number], findings: Findings): boolean {
  for (const test of row) if (!testHolds(test, findings)) return false;
  return true;
}

/** Every finding that a condition mentions, once each, in order. */
export function findingsIn(condition: Condition): readonly FindingId[] {
  return [...new Set(condition.flatMap((row) => row.map((test) => test.finding)))];
}

/** Property 3: a worse answer never lowers the outcome and never makes it later. */
import { compareValues } from './compare-values.ts';
import { findout, toProof, type Proof } from './report.ts';
import type { Subject } from './subject.ts';
import { worsePairs } from './values.ts';

export function proveWorseAnswers(subject: Subject): Proof {
  const found = findout();
  for (const { spec, values, number: finding } of subject.findings) {
    for (const pair of worsePairs(spec, values)) compareValues(subject, { finding, ...pair }, found);
  }
  return toProof(3, found);
}

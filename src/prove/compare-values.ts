/** Compares two values of one finding over every moment and all other answers; keeps the shortest call that tells. */
import type { FindingValue } from '../clinical/finding.ts';
import { classNumber, findingsOf } from './domain.ts';
import { findDrop, type Drop } from './drop.ts';
import { outcomeOfRank } from './phrases.ts';
import { findingsText, rankText } from './phrases.ts';
import { isPlainlyNoLower, type Compared } from './quick-check.ts';
import type { Findout } from './report.ts';
import { reachedCount, withHeld, type Side } from './side.ts';
import { confirm, decided, type Subject } from './subject.ts';
import type { Moment } from './tables.ts';
import { timeText } from './times.ts';

export interface ValuePair {
  readonly finding: number;
  readonly better: FindingValue;
  readonly worse: FindingValue;
}

export function compareValues(subject: Subject, pair: ValuePair, found: Findout): void {
  const compared: Compared = {
    finding: pair.finding,
    better: classNumber(subject.domain, pair.finding, pair.better),
    worse: classNumber(subject.domain, pair.finding, pair.worse),
  };
  found.cases += 1;
  if (compared.better === compared.worse) return;
  let shortest: { drop: Drop; moment: Moment } | null = null;
  for (const moment of doubtful(subject, compared)) {
    const drop = findDrop(side(moment, compared, 'better'), side(moment, compared, 'worse'), pair.finding);
    if (drop === 'too-large') found.isUndecided = true;
    else if (drop !== null && (shortest === null || isShorter(drop, shortest.drop)))
      shortest = { drop, moment };
  }
  if (shortest !== null) report(subject, pair, { ...shortest, compared, found });
}

/** Moments at which the cheap check shows nothing. It depends on the finding's own rules only. */
function doubtful({ moments, tables }: Subject, compared: Compared): readonly Moment[] {
  const own = tables.rulesOf[compared.finding] ?? [];
  const known = new Map<string, boolean>();
  return moments.filter((moment) => {
    let signature = '';
    for (const at of own) signature += `${String(moment.ranks[at])}.${String(moment.points[at])},`;
    const before = known.get(signature);
    if (before !== undefined) return !before;
    const plain = isPlainlyNoLower(moment, compared);
    known.set(signature, plain);
    return !plain;
  });
}

function side(moment: Moment, compared: Compared, which: 'better' | 'worse'): Side {
  return { moment, held: { finding: compared.finding, value: compared[which] } };
}

function isShorter(a: Drop, b: Drop): boolean {
  return reachedCount(a.shared) < reachedCount(b.shared);
}

interface Shown {
  readonly drop: Drop;
  readonly moment: Moment;
  readonly compared: Compared;
  readonly found: Findout;
}

function report(subject: Subject, pair: ValuePair, { drop, moment, compared, found }: Shown): void {
  const id = subject.domain.findings[pair.finding]?.spec.id ?? '';
  const shared = findingsOf(subject.domain, drop.shared);
  const better = { ...shared, [id]: pair.better };
  const worse = { ...shared, [id]: pair.worse };
  confirm(decided(subject, moment.at, better), drop.high);
  confirm(decided(subject, moment.at, worse), drop.low);
  const atBetter = findingsOf(subject.domain, withHeld(side(moment, compared, 'better'), drop.shared));
  found.counterexamples.push({
    says: `On ${timeText(moment.at)}, ${findingsText(worse)} comes to ${rankText(drop.low)}, but ${id}=${String(atBetter[id])} in its place to ${rankText(drop.high)}.`,
    at: moment.at,
    findings: worse,
    atLeast: outcomeOfRank(drop.high),
  });
}

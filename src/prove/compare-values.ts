/** Compares two values of one finding over every moment and all other answers; keeps the shortest call that tells. */
import type { FindingValue } from '../clinical/finding.ts';
import { classNumber, findingsOf } from './domain.ts';
import { findDrop, isShorter, type Drop } from './drop.ts';
import { findingsText, outcomeOfRank, rankText } from './phrases.ts';
import { isPlainlyNoLower, type Compared } from './quick-check.ts';
import type { Findout } from './report.ts';
import type { Side } from './side.ts';
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
  for (const moment of doubtful(subject, pair, compared)) {
    const drop = findDrop(side(moment, compared, 'better'), side(moment, compared, 'worse'), pair.finding);
    if (drop === 'too-large') found.isUndecided = true;
    else if (drop !== null && (shortest === null || isShorter(drop, shortest.drop)))
      shortest = { drop, moment };
  }
  if (shortest !== null) report(subject, pair, { ...shortest, found });
}

/** Moments at which the cheap check shows nothing. It depends on the rules that test the finding, and on no others. */
function doubtful(subject: Subject, pair: ValuePair, compared: Compared): readonly Moment[] {
  const { alike, memory, thresholdsKey, domain } = subject;
  const id = domain.findings[pair.finding]?.spec.id ?? '';
  return (alike[pair.finding] ?? []).flatMap(({ signature, moments }) => {
    const key = `${id} ${String(pair.better)} ${String(pair.worse)} ${String(thresholdsKey)} ${signature}`;
    const [moment] = moments;
    if (moment === undefined) return [];
    const plain = memory.plain.get(key) ?? isPlainlyNoLower(moment, compared);
    memory.plain.set(key, plain);
    return plain ? [] : moments;
  });
}

function side(moment: Moment, compared: Compared, which: 'better' | 'worse'): Side {
  return { moment, held: { finding: compared.finding, value: compared[which] } };
}

interface Shown {
  readonly drop: Drop;
  readonly moment: Moment;
  readonly found: Findout;
}

function report(subject: Subject, pair: ValuePair, { drop, moment, found }: Shown): void {
  const id = subject.domain.findings[pair.finding]?.spec.id ?? '';
  const shared = findingsOf(subject.domain, drop.shared);
  const better = { ...shared, [id]: pair.better };
  const worse = { ...shared, [id]: pair.worse };
  confirm(decided(subject, moment.at, better), drop.high);
  confirm(decided(subject, moment.at, worse), drop.low);
  found.counterexamples.push({
    says: `On ${timeText(moment.at)}, ${findingsText(worse)} comes to ${rankText(drop.low)}, but ${id}=${String(pair.better)} in its place to ${rankText(drop.high)}.`,
    at: moment.at,
    findings: worse,
    atLeast: outcomeOfRank(drop.high),
  });
}

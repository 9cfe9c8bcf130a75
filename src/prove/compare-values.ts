/** Compares two values of one finding over every moment and all other answers; keeps the shortest call that tells. */
import type { FindingValue } from '../clinical/finding.ts';
import { classNumber, findingsOf } from './domain.ts';
import { findDrop, isShorter, partsAbout, type Drop } from './drop.ts';
import { findingsText, outcomeOfRank, rankText } from './phrases.ts';
import { alikeMoments, recall } from './memory.ts';
import { areThresholdsNoLower, isPlainlyNoLower, isRuleNoLower, type Compared } from './quick-check.ts';
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
  const parts = partsAbout(subject.tables, pair.finding);
  let shortest: { drop: Drop; moment: Moment } | null = null;
  for (const moment of doubtful(subject, pair, compared)) {
    const drop = findDrop(side(moment, compared, 'better'), side(moment, compared, 'worse'), parts);
    if (drop === 'too-large') found.isUndecided = true;
    else if (drop !== null && (shortest === null || isShorter(drop, shortest.drop)))
      shortest = { drop, moment };
  }
  if (shortest !== null) report(subject, pair, { ...shortest, found });
}

/** Moments at which the cheap check shows nothing. It depends on the rules that test the finding, and on no others. */
function doubtful(subject: Subject, pair: ValuePair, compared: Compared): readonly Moment[] {
  const { tables, memory, moments, ruleKeys, thresholdsKey } = subject;
  const own = tables.rulesOf[pair.finding] ?? [];
  const id = subject.domain.findings[pair.finding]?.spec.id ?? '';
  const values = `${id} ${String(pair.better)} ${String(pair.worse)}`;
  const thresholds = recall(memory.byRule, `${values} thresholds ${String(thresholdsKey)}`, () =>
    areThresholdsNoLower(tables, compared),
  );
  const rules = own.every((at) =>
    recall(memory.byRule, `${values} ${String(ruleKeys[at])}`, () => isRuleNoLower(tables, at, compared)),
  );
  if (thresholds && rules) return [];
  return alikeMoments(own, moments, ruleKeys).flatMap((alike) => {
    const [moment] = alike.moments;
    const key = `${values} ${String(thresholdsKey)} ${alike.signature}`;
    if (moment === undefined || !thresholds) return alike.moments;
    return recall(memory.plain, key, () => isPlainlyNoLower(moment, compared)) ? [] : alike.moments;
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

/** Compares two values of one finding over every moment and all other answers; keeps the shortest call that tells. */
import type { FindingValue } from '../clinical/finding.ts';
import type { Outcome } from '../clinical/outcome.ts';
import type { TimeSince } from '../clinical/window.ts';
import { classNumber, findingsOf, type Assignment } from './domain.ts';
import { findDrop, isShorter, partsAbout, type Drop } from './drop.ts';
import { findingsText, outcomeText } from './phrases.ts';
import { dayToShow } from './playable.ts';
import { alikeMoments, recall } from './memory.ts';
import { areThresholdsNoLower, isPlainlyNoLower, isRuleNoLower, type Compared } from './quick-check.ts';
import type { Findout } from './report.ts';
import { sideRank, type Side } from './side.ts';
import { decided, type Subject } from './subject.ts';
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
  const moments = doubtful(subject, pair, compared);
  let shortest: Drop | null = null;
  for (const moment of moments) {
    const drop = findDrop(side(moment, compared, 'better'), side(moment, compared, 'worse'), parts);
    if (drop === 'too-large') found.isUndecided = true;
    else if (drop !== null && (shortest === null || isShorter(drop, shortest))) shortest = drop;
  }
  if (shortest === null) return;
  const { shared } = shortest;
  const falling = moments.filter(
    (moment) =>
      sideRank(side(moment, compared, 'worse'), shared) < sideRank(side(moment, compared, 'better'), shared),
  );
  report(subject, pair, { shared, falling, found });
}

/** Moments at which the cheap check shows nothing. It depends on the rules that test the finding, and on no others. */
function doubtful(subject: Subject, pair: ValuePair, compared: Compared): readonly Moment[] {
  const { tables, memory, moments, ruleKeys, thresholdsKey } = subject;
  const own = tables.rulesOf[pair.finding] ?? [];
  const id = subject.domain.findings[pair.finding]?.spec.id ?? '';
  const values = `${id} ${String(pair.better)} ${String(pair.worse)}`;
  const thresholds = recall(memory.plain, `${values} thresholds ${String(thresholdsKey)}`, () =>
    areThresholdsNoLower(tables, compared),
  );
  const byRule = memory.byRule.get(values) ?? new Map<number, boolean>();
  memory.byRule.set(values, byRule);
  const loose = own.filter(
    (at) => !recall(byRule, ruleKeys[at] ?? -1, () => isRuleNoLower(tables, at, compared)),
  );
  if (thresholds && loose.length === 0) return [];
  return alikeMoments(own, moments, ruleKeys).flatMap((alike) => {
    const [moment] = alike.moments;
    const key = `${values} ${String(thresholdsKey)} ${alike.signature}`;
    if (moment === undefined || !thresholds) return alike.moments;
    return recall(memory.plain, key, () => isPlainlyNoLower(moment, compared, loose)) ? [] : alike.moments;
  });
}

function side(moment: Moment, compared: Compared, which: 'better' | 'worse'): Side {
  return { moment, held: { finding: compared.finding, value: compared[which] } };
}

interface Shown {
  readonly shared: Assignment;
  /** The moments at which these answers end lower. */
  readonly falling: readonly Moment[];
  readonly found: Findout;
}

function report(subject: Subject, pair: ValuePair, { shared, falling, found }: Shown): void {
  const id = subject.domain.findings[pair.finding]?.spec.id ?? '';
  const others = findingsOf(subject.domain, shared);
  const better = { ...others, [id]: pair.better };
  const worse = { ...others, [id]: pair.worse };
  const wanted = (time: TimeSince): Outcome => decided(subject, time, better);
  const at = dayToShow(subject, falling, { findings: worse, atLeast: wanted });
  const reached = decided(subject, at, worse);
  found.counterexamples.push({
    says: `On ${timeText(at)}, ${findingsText(worse)} comes to ${outcomeText(reached)}, but ${id}=${String(pair.better)} in its place to ${outcomeText(wanted(at))}.`,
    at,
    findings: worse,
    atLeast: wanted(at),
  });
}

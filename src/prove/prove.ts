/**
 * Proves a flow safe, or shows a call that it is not: for every day 0-365, every hour of the first 72 and the unknown day,
 * over every combination of answers, unsure and not reached among them.
 *
 * Method. The outcome is the worst of the flow's floor, of every rule whose condition holds, and of every concern's points
 * against its thresholds. Conditions have no "not", and a finding that was not reached fulfils none, so a further answer
 * can only raise. That makes three things enough:
 * - Moments that no window tells apart are one class, values that no test tells apart are one value (values.ts, times.ts).
 * - "This never ends lower than that" is decided part by part: if it fails, it fails through one rule or one concern, with
 *   nothing reached but what that part looks at (drop.ts). Rules are gone through answer by answer; the points of a concern
 *   by a complete search with the other concerns held low, in which everything that masks a drop counts (concern-drop.ts).
 *   Most pairs are settled before that, because each rule that a better answer fulfils is made up for at the worse one
 *   (quick-check.ts).
 * - What circumstances add only raises; that is gone through completely with the deciding function itself (told.ts).
 * A search that is given up is reported as undecided and counts as not proved. Every counterexample is confirmed by the
 * deciding functions before it is shown, and is as short as the search allows.
 * - What flows share is looked at once: the same rules under the same answers have the same verdict (memory.ts), which a
 *   test holds against proving each flow by itself.
 *
 * Limits. It reasons about `assess`, `agenda` and `settle` over the compiled tables; tests tie these to the machine. Numbers
 * are those of the finding's grid. One time at a time: with two stated dates the worse counts, so what holds for each holds
 * for both. Property 3 is about a first call: a call after an earlier one about a problem that is known moves that problem's
 * own outcome one step sooner, so a worse answer about another problem may end lower there. Combined operations are proved
 * in pairs, and a surgeon's own rules with each procedure by itself, for properties 1 to 4 and 9. Thresholds that no
 * answers reach are named, not refuted: concerns share one scale, and most need only a part of it. It does not judge whether
 * a rule is clinically right.
 */
import type { CompiledFlow } from '../flow/compiled.ts';
import { proveCombined } from './combined.ts';
import { countCombinations } from './combinations.ts';
import { proveDays } from './days.ts';
import { proveEndings } from './endings.ts';
import { proveNotKnowing } from './not-knowing.ts';
import { proveReachable } from './reachable.ts';
import { proveRedFlags } from './red-flags.ts';
import type { FlowReport, Proof } from './report.ts';
import { memoryOf } from './memory.ts';
import { nameOf } from './phrases.ts';
import { REAL_DECIDERS, subjectOf, type Deciders, type Subject } from './subject.ts';
import { proveTellingOrder } from './telling-order.ts';
import { POSSIBLE_TIMES } from './times.ts';
import { proveTold } from './told.ts';
import { proveWorseAnswers } from './worse-answers.ts';

/** What is proved: the flows of single procedures, and those that combine some or add a surgeon's own rules. */
export interface Flows {
  readonly single: readonly CompiledFlow[];
  readonly derived: readonly CompiledFlow[];
}

/** The whole proof in one go. Its two halves can run beside each other (see the command). */
export function prove(flows: Flows, deciders: Deciders = REAL_DECIDERS): readonly FlowReport[] {
  const [first] = flows.single;
  const singles = proveSingles(flows.single, deciders);
  const told = first === undefined ? singles : withTold(singles, proveToldOnce(first, deciders));
  return [...told, ...proveDerived(flows, deciders)];
}

/** Property 8: circumstances are the same for every flow, so they are gone through once, with the words of any. */
export function proveToldOnce({ flow }: CompiledFlow, deciders: Deciders = REAL_DECIDERS): Proof {
  return proveTold(flow, deciders);
}

/** The reports of single flows with what holds for all of them alike. */
export function withTold(reports: readonly FlowReport[], told: Proof): readonly FlowReport[] {
  return reports.map((report) => ({
    ...report,
    proofs: [...report.proofs, told].toSorted((a, b) => a.property - b.property),
  }));
}

/** All properties but 8. */
export function proveSingles(
  single: readonly CompiledFlow[],
  deciders: Deciders = REAL_DECIDERS,
): readonly FlowReport[] {
  const memory = memoryOf(single.map(({ flow }) => flow));
  return single.map((compiled) => {
    const subject = subjectOf(compiled, deciders, memory);
    return reportOf(subject, [...proveSingle(subject), proveCombined(subject, [])]);
  });
}

/** What property 8 says holds for every flow alike, so it stands in the reports of single flows only. */
export function proveDerived(flows: Flows, deciders: Deciders = REAL_DECIDERS): readonly FlowReport[] {
  const memory = memoryOf([...flows.single, ...flows.derived].map(({ flow }) => flow));
  const subjects = flows.single.map((compiled) => subjectOf(compiled, deciders, memory));
  return flows.derived.map((compiled) => {
    const subject = subjectOf(compiled, deciders, memory);
    const parts = subjects.filter(({ flow }) =>
      flow.procedures.every((id) => compiled.flow.procedures.includes(id)),
    );
    const days = compiled.flow.surgeon === null ? [] : [proveDays(subject)];
    return reportOf(subject, [...proveOutcomes(subject), ...days, proveCombined(subject, parts)]);
  });
}

function proveOutcomes(subject: Subject): readonly Proof[] {
  return [
    proveEndings(subject),
    proveRedFlags(subject),
    proveWorseAnswers(subject),
    proveNotKnowing(subject),
  ];
}

function proveSingle(subject: Subject): readonly Proof[] {
  return [...proveOutcomes(subject), proveReachable(subject), proveDays(subject), proveTellingOrder(subject)];
}

function reportOf(subject: Subject, proofs: readonly Proof[]): FlowReport {
  return {
    flow: nameOf(subject.flow),
    hash: subject.compiled.hash,
    procedures: subject.flow.procedures,
    classes: subject.classes.length,
    moments: POSSIBLE_TIMES.length,
    combinations: countCombinations(subject.flow),
    proofs,
  };
}

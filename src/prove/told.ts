/**
 * Property 8, and what the other properties rest on: circumstances only raise what the answers come to, except a lowering
 * that a named clinician has confirmed. Decided by going through all of them with the deciding function itself.
 */
import { EMERGENCY, LADDER, SAME_DAY, rank, type Outcome } from '../clinical/outcome.ts';
import { ALL_DAYS } from '../clinical/window.ts';
import { freshCircumstances, type Circumstances, type ConfirmedLowering } from '../call/circumstances.ts';
import type { Flow, Rule } from '../flow/compiled.ts';
import { outcomeText, rankText } from './phrases.ts';
import { findout, toProof, type Findout, type Proof } from './report.ts';
import type { Deciders } from './subject.ts';

const AT = { day: 1, hours: null };
const RUNGS: readonly Outcome[] = LADDER;
const FLOORS: readonly (Outcome | null)[] = [null, ...RUNGS];
/** Counterexamples to show; one mistake usually shows in thousands of combinations. */
const MOST_SHOWN = 3;

export function proveTold(words: Flow, deciders: Deciders): Proof {
  const found = findout();
  const flows = RUNGS.map((to) => probeFlow(words, to));
  const findings = Object.freeze({ [PROBE]: 'yes' });
  for (const circumstances of everyCircumstance()) {
    let before = -1;
    for (const [computed, flow] of flows.entries()) {
      found.cases += 1;
      const { outcome } = deciders.assess(flow, circumstances, findings);
      const reached = rank(outcome);
      const fault = faultOf(circumstances, { computed, reached, before });
      before = reached;
      if (fault !== null && found.counterexamples.length < MOST_SHOWN) show(found, outcome, fault);
    }
  }
  return toProof(8, found);
}

function show(found: Findout, outcome: Outcome, fault: { says: string; least: number }): void {
  found.counterexamples.push({
    says: `${fault.says}; it ended in ${outcomeText(outcome)}.`,
    at: AT,
    findings: {},
    atLeast: LADDER[fault.least] ?? EMERGENCY,
  });
}

interface Reached {
  readonly computed: number;
  readonly reached: number;
  /** What the next milder answers came to in the same circumstances. */
  readonly before: number;
}

function faultOf(
  circumstances: Circumstances,
  { computed, reached, before }: Reached,
): { says: string; least: number } | null {
  if (reached < before) return { says: `Worse answers came to less than ${rankText(before)}`, least: before };
  const { told, raised, limitReached, ending, lowered } = circumstances;
  const unfinished = limitReached || ending === 'cut-off' ? rank(SAME_DAY) : 0;
  const floor = Math.max(
    computed,
    unfinished,
    ...[told, raised].map((one) => (one === null ? 0 : rank(one))),
  );
  if (reached >= floor) return null;
  if (lowered === null)
    return { says: `Without any lowering, ${rankText(floor)} did not stand`, least: floor };
  if (lowered.clinician.trim() === '') {
    return { says: `A lowering without a clinician's name went below ${rankText(floor)}`, least: floor };
  }
  if (reached < Math.min(floor, rank(lowered.to))) {
    return { says: `A lowering went below what the clinician confirmed`, least: rank(lowered.to) };
  }
  const needsVoice = floor === rank(EMERGENCY) || circumstances.takenBack.length > 0;
  return needsVoice && !lowered.spokeToPatient
    ? {
        says: `${rankText(floor)} was lowered by a clinician who had not spoken to the patient`,
        least: floor,
      }
    : null;
}

type Standing = Pick<Circumstances, 'ending' | 'screenFinished' | 'limitReached' | 'silent'>;

const ASKING: Standing = { ending: 'asking', screenFinished: false, limitReached: false, silent: false };
/** Going on, finished with or without the limit, cut off with or without the screen done, or without a word said. */
const ENDINGS: readonly Standing[] = [
  ASKING,
  { ...ASKING, ending: 'finished', screenFinished: true },
  { ...ASKING, ending: 'finished', screenFinished: true, limitReached: true },
  { ...ASKING, ending: 'cut-off', screenFinished: true },
  { ...ASKING, ending: 'cut-off' },
  { ...ASKING, ending: 'cut-off', silent: true },
];

/** Every combination of what was told, raised, lowered and by whom, how the call ended, and whether the clinic is open. */
function* everyCircumstance(): Generator<Circumstances> {
  const fresh = freshCircumstances(AT);
  for (const told of FLOORS)
    for (const raised of FLOORS)
      for (const lowered of everyLowering())
        for (const ending of ENDINGS)
          for (const clinic of ['open', 'closed'] as const)
            for (const takenBack of [[], [PROBE]])
              yield { ...fresh, ...ending, clinic, told, raised, lowered, takenBack };
}

function everyLowering(): readonly (ConfirmedLowering | null)[] {
  const by = [
    { clinician: '', spokeToPatient: true },
    { clinician: 'Dr Probe', spokeToPatient: false },
    { clinician: 'Dr Probe', spokeToPatient: true },
  ];
  return [null, ...RUNGS.flatMap((to) => by.map((one) => ({ ...one, to, confirmedAt: 1 })))];
}

const PROBE = 'probe';

/** A flow whose one rule comes to the given outcome. */
function probeFlow(words: Flow, to: Outcome): Flow {
  const rule: Rule = {
    id: PROBE,
    topic: PROBE,
    if: [[{ finding: PROBE, in: ['yes'] }]],
    window: ALL_DAYS,
    effect: { kind: 'at-least', concern: null, to },
    because: PROBE,
    source: PROBE,
  };
  return Object.freeze({ ...words, floor: null, questions: [], rules: [rule], concerns: [] });
}

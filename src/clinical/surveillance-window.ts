/**
 * The surveillance windows and criteria for surgical site infection, for figures only: triage never depends on them.
 * Source: CDC/NHSN manual; the list of 90-day categories is from memory. NHSN day 1 is the day of surgery, so 30 days
 * are days 0-29 after surgery and 90 days are 0-89.
 */
import type { ProcedureId } from './finding.ts';

/** BRST breast, HER herniorrhaphy, OTH any other. */
export type SurveillanceCategory = 'BRST' | 'HER' | 'OTH';
export type Depth = 'superficial' | 'deep' | 'organ-space';

/** Last day after surgery that counts, per depth. */
const SURVEILLANCE_LAST_DAY = {
  BRST: { superficial: 29, deep: 89, 'organ-space': 89 },
  HER: { superficial: 29, deep: 89, 'organ-space': 89 },
  OTH: { superficial: 29, deep: 29, 'organ-space': 29 },
} as const satisfies Readonly<Record<SurveillanceCategory, Readonly<Record<Depth, number>>>>;

/** The category of each procedure (practice rule). */
const SURVEILLANCE_CATEGORY: ReadonlyMap<ProcedureId, SurveillanceCategory> = new Map([
  ['breast-lift', 'BRST'],
  ['breast-reduction', 'BRST'],
  ['breast-augmentation', 'BRST'],
  ['hernia-repair', 'HER'],
  ['tummy-tuck', 'OTH'],
  ['liposuction', 'OTH'],
  ['eyelid-surgery', 'OTH'],
  ['face-lift', 'OTH'],
  ['nose-surgery', 'OTH'],
  ['skin-lesion', 'OTH'],
  ['skin-graft', 'OTH'],
  ['carpal-tunnel', 'OTH'],
]);

/** Any one of a depth's criteria is enough. Organ or space also needs a site-specific definition, not held here. */
export const SURVEILLANCE_CRITERIA = {
  superficial: ['pus', 'organism', 'opened-with-signs', 'clinician-diagnosis'],
  deep: ['pus', 'gaping-or-opened-with-fever-or-pain', 'abscess'],
  'organ-space': ['pus-from-drain', 'organism', 'abscess'],
} as const satisfies Readonly<Record<Depth, readonly string[]>>;
export type Criterion = (typeof SURVEILLANCE_CRITERIA)[Depth][number];

export interface SuspectedInfection {
  readonly procedure: ProcedureId;
  /** Days since surgery, 0 = the day itself. */
  readonly day: number;
  /** The deepest tissue involved; null is unknown. */
  readonly depth: Depth | null;
  readonly met: readonly Criterion[];
  readonly unknown: readonly Criterion[];
  /** Little inflammation, at the points of stitches only: a stitch abscess; null is unknown. */
  readonly stitchPointsOnly: boolean | null;
}

/**
 * `counted` meets the definition in its window; `outside-window` meets it too late; `not-met` covers cellulitis alone
 * and a stitch abscess; `unknown` needs a person to look.
 */
export type SurveillanceAnswer = 'counted' | 'outside-window' | 'not-met' | 'unknown';

/** Whether a day lies in the window of a procedure; null for a procedure that is not on the list. */
export function isInSurveillance(procedure: ProcedureId, depth: Depth, day: number): boolean | null {
  const category = SURVEILLANCE_CATEGORY.get(procedure);
  if (category === undefined) return null;
  return day >= 0 && day <= SURVEILLANCE_LAST_DAY[category][depth];
}

/** Sorts one suspected infection for the figures. What is unknown is never taken as "not met". */
export function surveillanceAnswer(infection: SuspectedInfection): SurveillanceAnswer {
  const { procedure, day, depth, stitchPointsOnly } = infection;
  if (stitchPointsOnly === true) return 'not-met';
  if (depth === null) return 'unknown';
  const isInWindow = isInSurveillance(procedure, depth, day);
  if (isInWindow === null) return 'unknown';
  const criterion = criterionOf(infection, depth);
  if (criterion !== 'met') return criterion === 'not-met' ? 'not-met' : 'unknown';
  if (!isInWindow) return 'outside-window';
  return depth === 'organ-space' || stitchPointsOnly === null ? 'unknown' : 'counted';
}

function criterionOf(infection: SuspectedInfection, depth: Depth): 'met' | 'not-met' | 'unknown' {
  const needed: readonly Criterion[] = SURVEILLANCE_CRITERIA[depth];
  if (needed.some((criterion) => infection.met.includes(criterion))) return 'met';
  return needed.some((criterion) => infection.unknown.includes(criterion)) ? 'unknown' : 'not-met';
}

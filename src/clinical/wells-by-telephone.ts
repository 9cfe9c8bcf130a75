/**
 * What a telephone call can answer of the two Wells tables. Whether another diagnosis is as likely is a clinician's
 * judgement at the bedside, so that item has no input here and stays unknown. For the handover only.
 */
import { LAST_CLOT_DAY } from './window.ts';
import { WELLS_DVT, WELLS_PE, wellsScore } from './wells.ts';
import type { DvtItem, PeItem, WellsAnswer, WellsScore } from './wells.ts';

export type Anaesthetic = 'general' | 'sedation' | 'spinal-or-regional' | 'local';

/** Facts that both scores need. Null is unknown. */
export interface ClotFacts {
  /** Days since surgery, 0 = the day itself. */
  readonly day: number | null;
  readonly anaesthetic: Anaesthetic | null;
  /** In bed or immobile for the three days and more that both tables mean. */
  readonly bedFor3Days: boolean | null;
  readonly activeCancer: boolean | null;
  /** A clot in leg or lung before; both tables count it. */
  readonly previousClot: boolean | null;
}

export interface LegFacts extends ClotFacts {
  readonly legInPlasterOrWeak: boolean | null;
  readonly deepVeinTenderness: boolean | null;
  readonly wholeLegSwollen: boolean | null;
  readonly calf3cmLarger: boolean | null;
  readonly pittingOneLeg: boolean | null;
  readonly legVeinsRaised: boolean | null;
}

export interface ChestFacts extends ClotFacts {
  readonly oneLegSwollen: boolean | null;
  readonly deepVeinTenderness: boolean | null;
  /** Beats a minute as measured in this call. */
  readonly heartRate: number | null;
  readonly coughingBlood: boolean | null;
}

/** Inclusive reading of "in the previous 4 weeks" (practice rule). */
const LAST_DAY_OF_4_WEEKS = 28;

/** "By telephone, at least N" for deep vein thrombosis. */
export function dvtByTelephone(facts: LegFacts): WellsScore<DvtItem> {
  return wellsScore(WELLS_DVT, {
    'active-cancer': answer(facts.activeCancer),
    'leg-in-plaster-or-weak': answer(facts.legInPlasterOrWeak),
    'bed-or-surgery': either(answer(facts.bedFor3Days), majorSurgeryWithin12Weeks(facts)),
    'deep-vein-tenderness': answer(facts.deepVeinTenderness),
    'whole-leg-swollen': answer(facts.wholeLegSwollen),
    'calf-3cm-larger': answer(facts.calf3cmLarger),
    'pitting-one-leg': answer(facts.pittingOneLeg),
    'leg-veins-raised': answer(facts.legVeinsRaised),
    'previous-dvt': answer(facts.previousClot),
    'alternative-as-likely': 'unknown',
  });
}

/** "By telephone, at least N" for pulmonary embolism. */
export function peByTelephone(facts: ChestFacts): WellsScore<PeItem> {
  return wellsScore(WELLS_PE, {
    'signs-of-dvt': both(answer(facts.oneLegSwollen), answer(facts.deepVeinTenderness)),
    'alternative-less-likely': 'unknown',
    'heart-rate-above-100': facts.heartRate === null ? 'unknown' : answer(facts.heartRate > 100),
    'immobile-or-surgery': either(answer(facts.bedFor3Days), surgeryWithin4Weeks(facts.day)),
    'previous-clot': answer(facts.previousClot),
    'coughing-blood': answer(facts.coughingBlood),
    'active-cancer': answer(facts.activeCancer),
  });
}

/**
 * "Major surgery" is not defined by the score: general and regional anaesthesia count, local does not (practice
 * rule). Sedation, or an anaesthetic that is not recorded, stays unknown.
 */
export function majorSurgeryWithin12Weeks({
  day,
  anaesthetic,
}: Pick<ClotFacts, 'day' | 'anaesthetic'>): WellsAnswer {
  if (anaesthetic === 'local') return 'no';
  const isWithin = withinDays(day, LAST_CLOT_DAY);
  return anaesthetic === 'general' || anaesthetic === 'spinal-or-regional'
    ? isWithin
    : both(isWithin, 'unknown');
}

/** Any surgery counts, whatever the anaesthetic. */
export function surgeryWithin4Weeks(day: number | null): WellsAnswer {
  return withinDays(day, LAST_DAY_OF_4_WEEKS);
}

function withinDays(day: number | null, last: number): WellsAnswer {
  return answer(day === null ? null : day >= 0 && day <= last);
}

function answer(known: boolean | null): WellsAnswer {
  if (known === null) return 'unknown';
  return known ? 'yes' : 'no';
}

function either(a: WellsAnswer, b: WellsAnswer): WellsAnswer {
  if (a === 'yes' || b === 'yes') return 'yes';
  return a === 'no' && b === 'no' ? 'no' : 'unknown';
}

function both(a: WellsAnswer, b: WellsAnswer): WellsAnswer {
  if (a === 'no' || b === 'no') return 'no';
  return a === 'yes' && b === 'yes' ? 'yes' : 'unknown';
}

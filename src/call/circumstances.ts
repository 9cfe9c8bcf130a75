/** Everything besides the findings that an outcome may depend on. Plain data; unknown is a value. */
import type { FindingId } from '../clinical/finding.ts';
import type { Outcome, OutcomeName } from '../clinical/outcome.ts';
import type { TimeSince } from '../clinical/window.ts';

/** An earlier contact about the same operation. */
export interface EarlierCall {
  readonly hoursAgo: number;
  readonly outcome: OutcomeName;
  /** The concern that led it; null is unknown and is taken as the same problem. */
  readonly about: string | null;
  /** Contacts that are not counted: asked for by the practice, cut off and rung again, an everyday question. */
  readonly kind: 'worried' | 'asked-by-practice' | 'cut-off' | 'everyday';
}

/** How the asking ended, or that it goes on. */
export type Ending = 'asking' | 'finished' | 'cut-off';

/** A lowering that a clinician has taken on: who, when, and whether they spoke to the patient. */
export interface ConfirmedLowering {
  readonly to: Outcome;
  readonly clinician: string;
  readonly confirmedAt: number;
  readonly spokeToPatient: boolean;
}

/** A person, a channel on which no nurse speaks, or the program because the call's own script is gone. */
export const RAISED_BY = ['nurse', 'line', 'program'] as const;
export type RaisedBy = (typeof RAISED_BY)[number];

export interface Circumstances {
  /** Usually one; two when two stated dates disagree: both are scored and the worse counts. */
  readonly times: readonly TimeSince[];
  /** Whether a same-day visit can still be met. */
  readonly clinic: 'open' | 'closed';
  readonly earlierCalls: readonly EarlierCall[];
  readonly ending: Ending;
  /** Every question of the danger screen is settled. */
  readonly screenFinished: boolean;
  /** A group was answered yes or unsure and not yet opened to the end. */
  readonly groupOpen: boolean;
  /** Nothing was said and no key was pressed. */
  readonly silent: boolean;
  /** The asking ended because of the limit on questions. */
  readonly limitReached: boolean;
  /** The highest outcome said to the caller or acted on; a floor. */
  readonly told: Outcome | null;
  /** A nurse's own raising; a floor. */
  readonly raised: Outcome | null;
  /** Says nothing while nothing was raised. */
  readonly raisedBy: RaisedBy;
  readonly lowered: ConfirmedLowering | null;
  /** Dangers said and later denied: they count as said until a clinician lowers. */
  readonly takenBack: readonly FindingId[];
}

export const CONTACT_WINDOW_HOURS = 72;

/** Circumstances of a call that has only begun, one known time, nothing said or told. */
export function freshCircumstances(time: TimeSince): Circumstances {
  return {
    times: [time],
    clinic: 'open',
    earlierCalls: [],
    ending: 'asking',
    screenFinished: false,
    groupOpen: false,
    silent: false,
    limitReached: false,
    told: null,
    raised: null,
    raisedBy: 'nurse',
    lowered: null,
    takenBack: [],
  };
}

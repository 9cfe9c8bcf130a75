/**
 * The two-level Wells scores for deep vein thrombosis and pulmonary embolism as additive tables.
 * Source: the tables used in NICE NG158. They go into the handover only and never decide an outcome: a leg or chest
 * symptom after surgery is urgent whatever they say.
 */

/** `unknown` is an answer of its own: it adds nothing and is listed. */
export type WellsAnswer = 'yes' | 'no' | 'unknown';

export interface WellsItem {
  readonly is: string;
  readonly points: number;
}

export interface WellsTable<TItem extends string> {
  readonly items: Readonly<Record<TItem, WellsItem>>;
  /** Unlikely up to and including this, likely above. */
  readonly unlikelyUpTo: number;
}

/** Whole points, -2 to 9: likely from 2. */
export const WELLS_DVT = {
  items: {
    'active-cancer': { is: 'active cancer: treated now or in the last 6 months, or palliative', points: 1 },
    'leg-in-plaster-or-weak': { is: 'paralysis, weakness or recent plaster of the leg', points: 1 },
    'bed-or-surgery': {
      is: 'in bed for 3 days or more recently, or major surgery within 12 weeks under general or regional anaesthesia',
      points: 1,
    },
    'deep-vein-tenderness': { is: 'tender along the deep veins', points: 1 },
    'whole-leg-swollen': { is: 'the whole leg swollen', points: 1 },
    'calf-3cm-larger': { is: 'calf at least 3 cm bigger round than the other', points: 1 },
    'pitting-one-leg': { is: 'pitting oedema of that leg only', points: 1 },
    'leg-veins-raised': { is: 'raised surface veins that are not varicose', points: 1 },
    'previous-dvt': { is: 'deep vein thrombosis documented before', points: 1 },
    'alternative-as-likely': { is: 'another diagnosis at least as likely', points: -2 },
  },
  unlikelyUpTo: 1,
} as const satisfies WellsTable<string>;
export type DvtItem = keyof typeof WELLS_DVT.items;

/** In halves, 0 to 12.5: likely above 4. */
export const WELLS_PE = {
  items: {
    'signs-of-dvt': {
      is: 'signs of deep vein thrombosis: leg swelling and pain on pressing the deep veins',
      points: 3,
    },
    'alternative-less-likely': { is: 'another diagnosis less likely than pulmonary embolism', points: 3 },
    'heart-rate-above-100': { is: 'heart rate above 100 a minute', points: 1.5 },
    'immobile-or-surgery': {
      is: 'immobile for more than 3 days, or surgery in the last 4 weeks',
      points: 1.5,
    },
    'previous-clot': { is: 'deep vein thrombosis or pulmonary embolism before', points: 1.5 },
    'coughing-blood': { is: 'coughing blood', points: 1 },
    'active-cancer': { is: 'cancer treated in the last 6 months, or palliative', points: 1 },
  },
  unlikelyUpTo: 4,
} as const satisfies WellsTable<string>;
export type PeItem = keyof typeof WELLS_PE.items;

export interface WellsScore<TItem extends string> {
  /**
   * The points of the items answered yes. What is unknown could add to it; only an unknown "another diagnosis at
   * least as likely" could take from it, which nobody judges by telephone.
   */
  readonly atLeast: number;
  readonly unknown: readonly TItem[];
  /** `open`: not likely so far, but what is unknown could make it so. Never a reason to reassure. */
  readonly level: 'likely' | 'unlikely' | 'open';
}

/** Adds up one table; every item needs an answer, which may be `unknown`. */
export function wellsScore<TItem extends string>(
  table: WellsTable<TItem>,
  answers: Readonly<Record<TItem, WellsAnswer>>,
): WellsScore<TItem> {
  const items = namesOf(table.items);
  const unknown = items.filter((name) => answers[name] === 'unknown');
  const atLeast = total(
    items.filter((name) => answers[name] === 'yes').map((name) => table.items[name].points),
  );
  const couldAdd = total(unknown.map((name) => Math.max(0, table.items[name].points)));
  return { atLeast, unknown, level: levelOf({ atLeast, couldAdd, unlikelyUpTo: table.unlikelyUpTo }) };
}

interface Sum {
  readonly atLeast: number;
  readonly couldAdd: number;
  readonly unlikelyUpTo: number;
}

function levelOf({ atLeast, couldAdd, unlikelyUpTo }: Sum): WellsScore<string>['level'] {
  if (atLeast > unlikelyUpTo) return 'likely';
  return atLeast + couldAdd > unlikelyUpTo ? 'open' : 'unlikely';
}

function total(points: readonly number[]): number {
  return points.reduce((sum, each) => sum + each, 0);
}

function namesOf<TItem extends string>(items: Readonly<Record<TItem, WellsItem>>): readonly TItem[] {
  return Object.keys(items).filter((name): name is TItem => name in items);
}

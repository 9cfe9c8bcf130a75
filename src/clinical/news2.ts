/**
 * The National Early Warning Score 2 as data, and the score of what was measured.
 * Source: Royal College of Physicians, National Early Warning Score (NEWS) 2, 2017. For patients of 16 and over who
 * are not pregnant. By telephone it is "at least N, missing ...": it may raise an outcome and never lowers one.
 */

export type NewsPoints = 0 | 1 | 2 | 3;

/** Inclusive borders as published; null is open. The bands of a list stand in rising order. */
export interface NewsBand {
  readonly atLeast: number | null;
  readonly atMost: number | null;
  readonly points: NewsPoints;
}

/** Named as the findings vocabulary names them; `consciousness` comes from several findings. */
export const NEWS_PARAMETERS = [
  'respiratory-rate',
  'oxygen-saturation',
  'on-oxygen',
  'systolic-pressure',
  'heart-rate',
  'consciousness',
  'temperature',
] as const;
export type NewsParameter = (typeof NEWS_PARAMETERS)[number];

/** The four parameters with one table each. Units: breaths/min, mmHg, beats/min, degrees Celsius. */
export const NEWS_TABLE = {
  'respiratory-rate': [
    { atLeast: null, atMost: 8, points: 3 },
    { atLeast: 9, atMost: 11, points: 1 },
    { atLeast: 12, atMost: 20, points: 0 },
    { atLeast: 21, atMost: 24, points: 2 },
    { atLeast: 25, atMost: null, points: 3 },
  ],
  'systolic-pressure': [
    { atLeast: null, atMost: 90, points: 3 },
    { atLeast: 91, atMost: 100, points: 2 },
    { atLeast: 101, atMost: 110, points: 1 },
    { atLeast: 111, atMost: 219, points: 0 },
    { atLeast: 220, atMost: null, points: 3 },
  ],
  'heart-rate': [
    { atLeast: null, atMost: 40, points: 3 },
    { atLeast: 41, atMost: 50, points: 1 },
    { atLeast: 51, atMost: 90, points: 0 },
    { atLeast: 91, atMost: 110, points: 1 },
    { atLeast: 111, atMost: 130, points: 2 },
    { atLeast: 131, atMost: null, points: 3 },
  ],
  temperature: [
    { atLeast: null, atMost: 35.0, points: 3 },
    { atLeast: 35.1, atMost: 36.0, points: 1 },
    { atLeast: 36.1, atMost: 38.0, points: 0 },
    { atLeast: 38.1, atMost: 39.0, points: 1 },
    { atLeast: 39.1, atMost: null, points: 2 },
  ],
} as const satisfies Readonly<Partial<Record<NewsParameter, readonly NewsBand[]>>>;

/** Oxygen saturation in percent. Scale 2 reads differently on air and on oxygen. */
export const NEWS_SATURATION = {
  scale1: [
    { atLeast: null, atMost: 91, points: 3 },
    { atLeast: 92, atMost: 93, points: 2 },
    { atLeast: 94, atMost: 95, points: 1 },
    { atLeast: 96, atMost: null, points: 0 },
  ],
  scale2OnAir: [
    { atLeast: null, atMost: 83, points: 3 },
    { atLeast: 84, atMost: 85, points: 2 },
    { atLeast: 86, atMost: 87, points: 1 },
    { atLeast: 88, atMost: null, points: 0 },
  ],
  scale2OnOxygen: [
    { atLeast: null, atMost: 83, points: 3 },
    { atLeast: 84, atMost: 85, points: 2 },
    { atLeast: 86, atMost: 87, points: 1 },
    { atLeast: 88, atMost: 92, points: 0 },
    { atLeast: 93, atMost: 94, points: 1 },
    { atLeast: 95, atMost: 96, points: 2 },
    { atLeast: 97, atMost: null, points: 3 },
  ],
} as const satisfies Readonly<Record<string, readonly NewsBand[]>>;

export const NEWS_OXYGEN = { air: 0, oxygen: 2 } as const satisfies Readonly<Record<string, NewsPoints>>;

/** Confusion of unknown duration is new confusion until shown otherwise. */
export const NEWS_CONSCIOUSNESS = {
  alert: 0,
  'new-confusion': 3,
  'responds-to-voice': 3,
  'responds-to-pain': 3,
  unresponsive: 3,
} as const satisfies Readonly<Record<string, NewsPoints>>;
export type Consciousness = keyof typeof NEWS_CONSCIOUSNESS;

/** What was measured in this call; null is not measured, and is never filled in. */
export interface Observations {
  readonly 'respiratory-rate': number | null;
  readonly 'oxygen-saturation': number | null;
  readonly 'on-oxygen': boolean | null;
  readonly 'systolic-pressure': number | null;
  readonly 'heart-rate': number | null;
  readonly consciousness: Consciousness | null;
  readonly temperature: number | null;
}

/** Scale 2 is for confirmed hypercapnic respiratory failure with a prescribed target of 88-92 %: a clinician's choice. */
export type SaturationScale = 1 | 2;

export interface NewsScore {
  /** 0 to 20: the points of what was measured. With anything missing it is only a floor. */
  readonly atLeast: number;
  readonly measured: readonly NewsParameter[];
  readonly missing: readonly NewsParameter[];
  /** One measured parameter scores 3 by itself. */
  readonly anySingleThree: boolean;
  /** Null where the points are not known. */
  readonly parts: Readonly<Record<NewsParameter, NewsPoints | null>>;
}

/** Scores what was measured; scale 1 unless scale 2 is asked for. */
export function news2(seen: Observations, scale: SaturationScale = 1): NewsScore {
  const parts = {
    'respiratory-rate': pointsOrNull(NEWS_TABLE['respiratory-rate'], seen['respiratory-rate']),
    'oxygen-saturation': saturationPoints(seen, scale),
    'on-oxygen': seen['on-oxygen'] === null ? null : NEWS_OXYGEN[seen['on-oxygen'] ? 'oxygen' : 'air'],
    'systolic-pressure': pointsOrNull(NEWS_TABLE['systolic-pressure'], seen['systolic-pressure']),
    'heart-rate': pointsOrNull(NEWS_TABLE['heart-rate'], seen['heart-rate']),
    consciousness: seen.consciousness === null ? null : NEWS_CONSCIOUSNESS[seen.consciousness],
    temperature: pointsOrNull(NEWS_TABLE.temperature, seen.temperature),
  } satisfies Record<NewsParameter, NewsPoints | null>;
  return {
    atLeast: NEWS_PARAMETERS.reduce((sum, name) => sum + (parts[name] ?? 0), 0),
    measured: NEWS_PARAMETERS.filter((name) => parts[name] !== null),
    missing: NEWS_PARAMETERS.filter((name) => parts[name] === null),
    anySingleThree: NEWS_PARAMETERS.some((name) => parts[name] === 3),
    parts,
  };
}

/** The published class of a score; of a partial one the class it has reached at least. */
export type NewsRisk = 'low' | 'low-medium' | 'medium' | 'high';

export function newsRisk(score: Pick<NewsScore, 'atLeast' | 'anySingleThree'>): NewsRisk {
  if (score.atLeast >= 7) return 'high';
  if (score.atLeast >= 5) return 'medium';
  return score.anySingleThree ? 'low-medium' : 'low';
}

/** The points of one value. A value between two published borders (38.05) scores the higher of the two bands. */
export function bandPoints(bands: readonly NewsBand[], value: number): NewsPoints {
  if (!Number.isFinite(value)) throw new Error('An observation is not a number');
  const at = bands.findIndex((band) => band.atMost === null || value <= band.atMost);
  const band = bands[at];
  if (band === undefined) throw new Error('A value lies in no band of the NEWS2 table');
  const below = bands[at - 1];
  if (below === undefined || band.atLeast === null || value >= band.atLeast) return band.points;
  return below.points > band.points ? below.points : band.points;
}

function pointsOrNull(bands: readonly NewsBand[], value: number | null): NewsPoints | null {
  return value === null ? null : bandPoints(bands, value);
}

// On scale 2 a saturation above 92 means nothing until it is known whether oxygen is given: then it is not scored.
function saturationPoints(seen: Observations, scale: SaturationScale): NewsPoints | null {
  const value = seen['oxygen-saturation'];
  if (value === null) return null;
  if (scale === 1) return bandPoints(NEWS_SATURATION.scale1, value);
  const onAir = bandPoints(NEWS_SATURATION.scale2OnAir, value);
  const onOxygen = bandPoints(NEWS_SATURATION.scale2OnOxygen, value);
  if (onAir === onOxygen) return onAir;
  if (seen['on-oxygen'] === null) return null;
  return seen['on-oxygen'] ? onOxygen : onAir;
}

/** What a temperature said aloud means in degrees Celsius, and when it has to be asked again. */
import { fault, type Fault } from '../basics/fault.ts';
import { failed, ok, type Result } from '../basics/result.ts';

export type TemperatureUnit = 'C' | 'F';

export interface Temperature {
  /** On a grid of 0.1, rounded away from the middle of the normal range, so that rounding never reassures. */
  readonly celsius: number;
  /** The unit it was taken to be given in; read back when it was not stated. */
  readonly given: TemperatureUnit;
}

/** Celsius of a Fahrenheit value: (F - 32) x 5/9, to 0.01. */
export function celsius(fahrenheit: number): number {
  return hundredths(((fahrenheit - 32) * 5) / 9);
}

/** Fahrenheit of a Celsius value: C x 9/5 + 32, to 0.01. */
export function fahrenheit(degrees: number): number {
  return hundredths((degrees * 9) / 5 + 32);
}

/** The limits, inclusive. With a stated unit: what a living patient can have (common practice, 30 to 44 Celsius). */
const PLAUSIBLE = {
  stated: { C: { min: 30, max: 44 }, F: { min: 86, max: 111.2 } },
  unstated: { C: { min: 34, max: 43 }, F: { min: 93, max: 108 } },
} as const;

/**
 * Reads a temperature. A stated unit (C or F) wins, within 30-44 C or 86-111.2 F. Without a unit 34-43 is Celsius and
 * 93-108 Fahrenheit (practice rule). Anything else is out of range and is asked again, never guessed.
 */
export function readTemperature(value: number, unit: TemperatureUnit | null): Result<Temperature, Fault> {
  const limits = unit === null ? PLAUSIBLE.unstated : PLAUSIBLE.stated;
  const given = unit ?? (isWithin(value, limits.C) ? 'C' : 'F');
  if (!isWithin(value, limits[given])) return failed(unit === null ? ASK_UNIT : ASK_VALUE);
  return ok({ celsius: awayFromNormal(given === 'C' ? value : celsius(value)), given });
}

const ASK_UNIT = fault(
  'out-of-range',
  'The temperature cannot be told without its unit; accepted are 34 to 43 (Celsius) or 93 to 108 (Fahrenheit).',
);
const ASK_VALUE = fault(
  'out-of-range',
  'The temperature is not plausible in the unit given; accepted are 30 to 44 Celsius or 86 to 111.2 Fahrenheit.',
);

const MIDDLE_OF_NORMAL = 37;

function awayFromNormal(degrees: number): number {
  // From whole hundredths, as binary fractions could lift a full tenth to the next.
  const tenths = Math.round(degrees * 100) / 10;
  return (degrees >= MIDDLE_OF_NORMAL ? Math.ceil(tenths) : Math.floor(tenths)) / 10;
}

function hundredths(degrees: number): number {
  return Math.round(degrees * 100) / 100;
}

interface Limits {
  readonly min: number;
  readonly max: number;
}

function isWithin(value: number, { min, max }: Limits): boolean {
  return value >= min && value <= max;
}

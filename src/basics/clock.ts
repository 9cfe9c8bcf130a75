/** The time as a value that is passed in, so that nothing below the edges asks the machine for it. */
export type Millis = number;

export interface Clock {
  /** UTC milliseconds. */
  readonly now: () => Millis;
}

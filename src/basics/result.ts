/** A value or an expected failure, for edges where failing is part of the job. */
export type Result<TValue, TFault> = Ok<TValue> | Failed<TFault>;

export interface Ok<TValue> {
  readonly ok: true;
  readonly value: TValue;
}

export interface Failed<TFault> {
  readonly ok: false;
  readonly fault: TFault;
}

export function ok<TValue>(value: TValue): Ok<TValue> {
  return { ok: true, value };
}

export function failed<TFault>(fault: TFault): Failed<TFault> {
  return { ok: false, fault };
}

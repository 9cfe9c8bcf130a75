/** Deep-freezes plain data so that compiled flows cannot change behind a call's back. */
export function deepFreeze<TValue>(value: TValue): TValue {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const inner of Object.values(value)) deepFreeze(inner);
  }
  return value;
}

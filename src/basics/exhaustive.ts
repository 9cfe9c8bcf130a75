/** Makes a missing case of a closed union a compile error, and a defect when it happens all the same. */
export function exhaustive(value: never): never {
  throw new Error(`A case is missing for ${JSON.stringify(value)}`);
}

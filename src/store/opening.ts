/** What every opener does last: refuses a database that was written under another practice key. */
import { fitsPracticeKey } from './key-plans.ts';
import type { Plan, Written } from './plan.ts';
import type { Runner } from './runner.ts';
import type { WorkingKeys } from './sealing.ts';

export async function requirePracticeKey(runner: Runner, keys: WorkingKeys): Promise<void> {
  const fits = await runner.write(() => fitsPlan(keys));
  if (!fits.ok) throw new Error('The database cannot be written to.');
  if (!fits.value) throw new Error('The practice key is not the one this database was written under.');
}

function* fitsPlan(keys: WorkingKeys): Plan<Written<boolean>> {
  return { keep: true, value: yield* fitsPracticeKey(keys) };
}

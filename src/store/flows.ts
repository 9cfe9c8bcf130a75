/** The store of compiled flows over any runner: their canonical text under its own hash. */
import { createHash } from 'node:crypto';
import { deepFreeze } from '../basics/freeze.ts';
import type { FlowHash } from '../basics/ids.ts';
import { canonicalJson } from '../basics/json.ts';
import type { FlowStore, KeptFlow } from '../call/flow-store.ts';
import { change, rowOf } from './plan.ts';
import type { Plan, Written } from './plan.ts';
import type { Runner } from './runner.ts';
import type { FlowRow } from './schema.ts';

export function flowStore(runner: Runner): FlowStore {
  return {
    keep: async (compiled, at) => {
      const row = { hash: compiled.hash, content: canonicalJson(compiled.flow), kept_at: at };
      // A row is never changed again, so a wrong one would take the name from the right flow for ever.
      if (!fitsName(row)) throw new Error('A flow is kept under the hash of its content only.');
      return await runner.write(() => keepPlan(row));
    },
    read: (hash) => runner.read(() => readPlan(hash)),
  };
}

function* keepPlan(row: FlowRow): Plan<Written<void>> {
  yield* change('addFlow', row);
  return { keep: true, value: undefined };
}

function* readPlan(hash: FlowHash): Plan<KeptFlow | null> {
  const row = yield* rowOf('flow', { hash });
  return row === null || !fitsName(row) ? null : flowFrom(row);
}

/** SHA-256 (FIPS 180-4) over the stored text, in hexadecimal. */
function fitsName({ hash, content }: Pick<FlowRow, 'hash' | 'content'>): boolean {
  return createHash('sha256').update(content, 'utf8').digest('hex') === hash;
}

// What fits its name is the text of a flow that was compiled and checked, letter by letter.
function flowFrom({ hash, content }: FlowRow): KeptFlow {
  return deepFreeze({ flow: JSON.parse(content) as KeptFlow['flow'], hash });
}

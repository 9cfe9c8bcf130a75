/** The hash of one row of the record over the stored text of all its other columns, and so of the row before it. */
import { createHash } from 'node:crypto';
import type { CheckpointRow, EventRow } from './schema.ts';

/** SHA-256 (FIPS 180-4) in hexadecimal; it covers the sealed text, not what is inside, so erasure leaves it true. */
export function eventHash(row: Omit<EventRow, 'hash'>): string {
  return hashOf([row.call, row.seq, row.at, row.by, row.type, row.v, row.open, row.sealed, row.prev]);
}

export function checkpointHash(row: Omit<CheckpointRow, 'hash'>): string {
  return hashOf([row.n, row.at, row.heads, row.prev]);
}

// Every column goes in with its length in bytes before it, so no two rows give the same input.
function hashOf(columns: readonly (string | number | null)[]): string {
  const hash = createHash('sha256');
  for (const column of columns) {
    const text = column === null ? null : String(column);
    hash.update(text === null ? '-,' : `${Buffer.byteLength(text)}:${text},`, 'utf8');
  }
  return hash.digest('hex');
}

/** The hashes of the record against bytes written out by hand. */
import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import type { CallId } from '../../src/basics/ids.ts';
import { checkpointHash, eventHash } from '../../src/store/record-hash.ts';
import type { EventRow } from '../../src/store/schema.ts';

const ROW: Omit<EventRow, 'hash'> = {
  call: 'c1' as CallId,
  seq: 2,
  at: 1_772_442_000_000,
  by: 'line',
  type: 'heard',
  v: 1,
  open: '{"é":1}',
  sealed: null,
  prev: '',
};

describe('the hash of an event', () => {
  // SHA-256 is FIPS 180-4; the input is every column with its length in bytes before it, null as a dash.
  it('is SHA-256 over every column', () => {
    const bytes = '2:c1,1:2,13:1772442000000,4:line,5:heard,1:1,8:{"é":1},-,0:,';
    expect(eventHash(ROW)).toBe(createHash('sha256').update(bytes, 'utf8').digest('hex'));
  });

  it('tells nothing sealed from an empty text, and one column from the next', () => {
    expect(eventHash({ ...ROW, sealed: '' })).not.toBe(eventHash(ROW));
    expect(eventHash({ ...ROW, sealed: '-' })).not.toBe(eventHash(ROW));
    expect(eventHash({ ...ROW, type: 'heard,1:1' })).not.toBe(eventHash(ROW));
  });
});

describe('the hash of a checkpoint', () => {
  it('is SHA-256 over every column', () => {
    const bytes = '1:7,2:10,2:[],3:abc,';
    const row = { n: 7, at: 10, heads: '[]', prev: 'abc' };
    expect(checkpointHash(row)).toBe(createHash('sha256').update(bytes).digest('hex'));
  });
});

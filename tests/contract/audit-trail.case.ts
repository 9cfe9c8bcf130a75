/** What every audit trail keeps to, whatever is behind it. */
import { describe, expect, it } from 'vitest';
import { newId } from '../../src/basics/ids.ts';
import type { AuditEntry } from '../../src/people/audit-trail.ts';
import { START, valueOf } from './a-turn.ts';
import { opened } from './store-under-test.ts';
import type { OpenStore } from './store-under-test.ts';

function anEntry(changes: Partial<AuditEntry> = {}): AuditEntry {
  return {
    id: newId(),
    at: START,
    who: 'bronagh-tully',
    role: 'nurse',
    what: 'GET /api/calls/:id',
    about: ['01980000-0000-7000-8000-000000000101'],
    from: '192.0.2.1',
    ...changes,
  };
}

const ALL = { on: null, before: null, limit: 10 };

export function auditTrailFacts(open: OpenStore): void {
  describe('an audit trail', () => {
    it('is read newest first, as it was written, and in pages', async () => {
      const { store } = await opened(open);
      const entries = [anEntry(), anEntry({ role: null, about: [] }), anEntry({ who: 'hamish-orde' })];
      for (const entry of entries) valueOf(await store.audit.add(entry));
      const [first, second, third] = entries;
      expect(valueOf(await store.audit.read(ALL))).toEqual([third, second, first]);
      expect(valueOf(await store.audit.read({ ...ALL, limit: 1 }))).toEqual([third]);
      expect(valueOf(await store.audit.read({ ...ALL, before: third?.id ?? '' }))).toEqual([second, first]);
    });

    it('is read by who it was, and by whom it was about', async () => {
      const { store } = await opened(open);
      const about = '01980000-0000-7000-8000-000000000999';
      const mine = anEntry({ who: 'hamish-orde' });
      const theirs = anEntry({ about: ['x', about] });
      for (const entry of [mine, theirs, anEntry()]) valueOf(await store.audit.add(entry));
      expect(valueOf(await store.audit.read({ ...ALL, on: 'hamish-orde' }))).toEqual([mine]);
      expect(valueOf(await store.audit.read({ ...ALL, on: about }))).toEqual([theirs]);
    });

    it.each(['%', '_', 'x%', '"', '', '\\'])('gives nothing for %j, which no id is', async (on) => {
      const { store } = await opened(open);
      valueOf(await store.audit.add(anEntry()));
      expect(valueOf(await store.audit.read({ ...ALL, on }))).toEqual([]);
    });

    it('is neither written nor read when the store is closed', async () => {
      const { store } = await open();
      await store.close();
      expect(await store.audit.add(anEntry())).toEqual({ ok: false, fault: 'store-down' });
      expect(await store.audit.read(ALL)).toEqual({ ok: false, fault: 'store-down' });
    });
  });
}

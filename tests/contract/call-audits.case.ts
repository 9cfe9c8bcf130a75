/** What every store of call audits keeps to, whatever is behind it. */
import { describe, expect, it } from 'vitest';
import { newId } from '../../src/basics/ids.ts';
import type { CallId } from '../../src/basics/ids.ts';
import { aHead, aKeptCall, anEvent, aTurn, kept, START, valueOf } from './a-turn.ts';
import { opened } from './store-under-test.ts';
import type { OpenStore } from './store-under-test.ts';

const HOUR = 3_600_000;

export function callAuditFacts(open: OpenStore): void {
  describe('call audits', () => {
    it('are read in order of time, and the same one again changes nothing', async () => {
      const { store } = await opened(open);
      const { call } = await aKeptCall(store);
      const first = { id: newId(), call, at: START, who: 'precious-adeyinka', comment: 'Well asked.' };
      const second = { ...first, id: newId(), comment: 'Read again: <b>still</b> well asked.' };
      for (const audit of [first, second, { ...first, comment: 'other words' }]) {
        valueOf(await store.callAudits.add(audit));
      }
      expect(valueOf(await store.callAudits.of(call))).toEqual([first, second]);
    });

    it('are sealed, and about calls that exist', async () => {
      const { store, back } = await opened(open);
      const { call } = await aKeptCall(store);
      const audit = { id: newId(), call, at: START, who: 'precious-adeyinka', comment: 'Ottilie was heard.' };
      valueOf(await store.callAudits.add(audit));
      expect(await back.everything()).not.toContain('Ottilie was heard');
      const stray = { ...audit, id: newId(), call: newId<CallId>() };
      expect(await store.callAudits.add(stray)).toEqual({ ok: false, fault: 'not-found' });
    });
  });

  describe('the log', () => {
    it('holds the calls that began from one moment to before another, newest first', async () => {
      const { store } = await opened(open);
      const calls: CallId[] = [];
      for (const hour of [0, 1, 2, 3]) {
        const head = aHead({ startedAt: START + hour * HOUR });
        calls.push((await aKeptCall(store, { head })).call);
      }
      const span = { since: START + HOUR, until: START + 3 * HOUR, limit: 10 };
      const between = valueOf(await store.callAudits.callsBetween(span));
      expect(between.map(({ call }) => call)).toEqual([calls[2], calls[1]]);
      const [newest] = valueOf(await store.callAudits.callsBetween({ ...span, limit: 1 }));
      expect(newest?.call).toBe(calls[2]);
    });

    it('knows the first person who did something in a call, or that nobody did', async () => {
      const { store } = await opened(open);
      const { call } = await aKeptCall(store);
      expect(valueOf(await store.callAudits.takenBy(call))).toBeNull();
      const events = [anEvent({ by: 'user:bronagh-tully' }), anEvent({ by: 'user:hamish-orde' })];
      await kept(store, aTurn({ call, expectedSeq: 2, events }));
      expect(valueOf(await store.callAudits.takenBy(call))).toBe('bronagh-tully');
    });
  });
}

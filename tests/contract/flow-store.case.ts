/** What every store of flows keeps to, whatever is behind it. */
import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import type { FlowHash } from '../../src/basics/ids.ts';
import { canonicalJson } from '../../src/basics/json.ts';
import type { KeptFlow } from '../../src/call/flow-store.ts';
import { rulesLibrary } from '../support/a-practice.ts';
import { START, valueOf } from './a-turn.ts';
import { opened } from './store-under-test.ts';
import type { OpenStore } from './store-under-test.ts';

const compiled = rulesLibrary().flowFor(['breast-lift', 'tummy-tuck']);

export function flowStoreFacts(open: OpenStore): void {
  describe('a flow', () => {
    it('that was kept is read as it was, and cannot be changed', async () => {
      const { store } = await opened(open);
      expect(await store.flows.keep(compiled, START)).toEqual({ ok: true, value: undefined });
      const read = valueOf(await store.flows.read(compiled.hash));
      expect(read).toEqual(compiled);
      expect(Object.isFrozen(read?.flow.questions[0]?.window)).toBe(true);
    });

    it('that nobody kept is not there', async () => {
      const { store } = await opened(open);
      expect(await store.flows.read('0'.repeat(64) as FlowHash)).toEqual({ ok: true, value: null });
    });

    it('kept again changes nothing, also when several keep it at once', async () => {
      const { store, back } = await opened(open);
      const first = store.flows.keep(compiled, START);
      expect(await first).toEqual({ ok: true, value: undefined });
      const before = await back.everything();
      const again = await Promise.all([1, 2, 3].map((later) => store.flows.keep(compiled, START + later)));
      expect(again).toEqual([1, 2, 3].map(() => ({ ok: true, value: undefined })));
      expect(await back.everything()).toBe(before);
    });

    it('whose content does not hash to its name is missing', async () => {
      const { store, back } = await opened(open);
      await store.flows.keep(compiled, START);
      const content = canonicalJson({ ...compiled.flow, title: 'Another' });
      await back.putFlow({ hash: compiled.hash, content, kept_at: START });
      expect(await store.flows.read(compiled.hash)).toEqual({ ok: true, value: null });
    });

    // FIPS 180-4 as node:crypto has it, over the canonical text.
    it('has the SHA-256 of its canonical text for its name, and no other', async () => {
      const { store } = await opened(open);
      const text = canonicalJson(compiled.flow);
      expect(compiled.hash).toBe(createHash('sha256').update(text).digest('hex'));
      const misnamed: KeptFlow = { ...compiled, hash: 'f'.repeat(64) as FlowHash };
      await expect(store.flows.keep(misnamed, START)).rejects.toThrow(/hash of its content/);
      expect(await store.flows.read(misnamed.hash)).toEqual({ ok: true, value: null });
    });

    it('is neither kept nor read when the store is closed', async () => {
      const { store } = await open();
      await store.close();
      expect(await store.flows.keep(compiled, START)).toEqual({ ok: false, fault: 'store-down' });
      expect(await store.flows.read(compiled.hash)).toEqual({ ok: false, fault: 'store-down' });
    });
  });
}

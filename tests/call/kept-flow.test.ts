/** An open call keeps the script it began on after the files changed and the program was started again. */
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { fault } from '../../src/basics/fault.ts';
import { ok } from '../../src/basics/result.ts';
import { loadCall } from '../../src/call/load-call.ts';
import type { FlowLibrary } from '../../src/flow/library.ts';
import { openSqlite } from '../../src/store/sqlite.ts';
import type { Store } from '../../src/store/store.ts';
import { aPatient, anOperation } from '../contract/a-patient.ts';
import { valueOf } from '../contract/a-turn.ts';
import { KEYS, type BackDoor } from '../contract/store-under-test.ts';
import { openedMemory } from '../store/memory-back-door.ts';
import {
  aPractice,
  libraryWith,
  newCallId,
  NOW,
  rulesLibrary,
  type Practice,
} from '../support/a-practice.ts';
import { Ring } from '../support/a-ring.ts';
import { readText } from '../support/project-files.ts';
import { tempDir } from '../support/temp-dir.ts';

// The fixture's concern "bleeding": 2 points planned visit, 3 next working day, 9 within the hour.
const SWOLLEN = { swelling: 'one-sided' };
const TWO_AND_ONE = 'arrange-review/next-working-day';

/** The same files with other points for any swelling; one-sided swelling adds one more. */
function libraryOfPoints(points: number): FlowLibrary {
  return libraryChanged('topics/swelling.yaml', 'points: { bleeding: 2 }', `points: { bleeding: ${points} }`);
}

function libraryChanged(below: string, was: string, is: string): FlowLibrary {
  const file = join('tests', 'fixtures', 'flows-rules', below);
  return libraryWith([{ file, below, text: readText(file).replace(was, is) }]);
}

/** The call as the practice that was started later takes it up. */
async function takenUp(practice: Practice, call: Ring['call']): Promise<Ring> {
  const ring = new Ring(practice.deps, call);
  await ring.says({ kind: 'note', text: 'Taken up again.' });
  return ring;
}

async function closedAfter(opening: Promise<Store>): Promise<Store> {
  const store = await opening;
  onTestFinished(() => store.close());
  return store;
}

/** Notes what the store of flows is asked. */
function counting(store: Store, asked: string[]): Store {
  const { keep, read } = store.flows;
  const note = <TAnswer>(name: string, answer: TAnswer): TAnswer => {
    asked.push(name);
    return answer;
  };
  return {
    ...store,
    flows: { keep: (...all) => note('keep', keep(...all)), read: (hash) => note('read', read(hash)) },
  };
}

/** Makes the script that the call runs on unreadable. */
function lose(back: BackDoor, ring: Ring): Promise<void> {
  return back.putFlow({ hash: ring.done.runner.compiled.hash, content: '{}', kept_at: NOW });
}

/** A call that came to three points, taken up again under files with other points, its own script gone. */
async function onLostFlow(points: number, ending: (ring: Ring) => Promise<void> = async () => undefined) {
  const { store, back } = openedMemory();
  const ring = await aPractice({ store }).ring();
  await ring.answerAll(SWOLLEN);
  await ending(ring);
  await lose(back, ring);
  const practice = aPractice({ store, library: libraryOfPoints(points) });
  return { ring, store, practice, again: await takenUp(practice, ring.call) };
}

describe('after a restart with changed files', () => {
  test('an open call goes on with the questions and the outcome of its own script', async () => {
    const file = join(tempDir(), 'calls.sqlite');
    const first = await openSqlite({ file, keys: KEYS });
    const before = aPractice({ store: first });
    const ring = await before.ring();
    await ring.answerAll(SWOLLEN, 'swelling-within-hours');
    const { hash } = ring.done.runner.compiled;
    const { question } = ring;
    await first.close();

    const store = await closedAfter(openSqlite({ file, keys: KEYS }));
    const after = aPractice({ store, library: libraryOfPoints(8) });
    const again = await takenUp(after, ring.call);
    expect(again.done.runner.compiled.hash).toBe(hash);
    expect(again.question).toBe(question);
    await again.answerAll(SWOLLEN);
    expect(again.result).toBe(TWO_AND_ONE);
    expect(valueOf(await store.calls.load(ring.call))?.head.flowHash).toBe(hash);

    const fresh = await after.ring();
    expect(fresh.done.runner.compiled.hash).not.toBe(hash);
    await fresh.answerAll(SWOLLEN);
    expect(fresh.result).toBe('urgent-escalation/1-hour');
  });

  test('a call about two procedures goes on with their combined script', async () => {
    const { store } = openedMemory();
    const ring = await aPractice({ store }).ring({
      operated: { procedures: ['breast-lift', 'tummy-tuck'] },
    });
    const after = aPractice({ store, library: libraryOfPoints(8) });
    const again = await takenUp(after, ring.call);
    expect(again.done.runner.compiled).toEqual(rulesLibrary().flowFor(['breast-lift', 'tummy-tuck']));
  });

  test('every script that a call has run on is kept, the general one too', async () => {
    const { store } = openedMemory();
    const { general, flowFor } = rulesLibrary();
    await aPractice({ store }).ring();
    for (const flow of [general, flowFor(['breast-lift'])]) {
      expect(valueOf(await store.flows.read(flow.hash))).toEqual(flow);
    }
    expect(valueOf(await store.flows.read(flowFor(['tummy-tuck']).hash))).toBeNull();
  });

  test('a script is kept and read once however long the call is', async () => {
    const { store } = openedMemory();
    const ring = await aPractice({ store }).ring();
    const asked: string[] = [];
    const after = aPractice({ store: counting(store, asked), library: libraryOfPoints(8) });
    const again = await takenUp(after, ring.call);
    await again.answerAll();
    expect(again.answered.length).toBeGreaterThan(5);
    expect(asked).toEqual(['read', 'keep']);
  });
});

describe('a script that is nowhere any more', () => {
  test('is replaced by the one of today, and what the call had come to stands', async () => {
    const { ring, again, store } = await onLostFlow(1);
    expect(ring.result).toBe(TWO_AND_ONE);
    expect(again.result).toBe(TWO_AND_ONE);
    const events = valueOf(await store.calls.events(ring.call));
    expect(events.find(({ type }) => type === 'raised')).toMatchObject({
      by: 'system',
      open: { outcome: 'arrange-review', within: 'next-working-day', flow: 'breast-lift' },
    });
    const head = valueOf(await store.calls.load(ring.call))?.head;
    expect(head?.flowHash).toBe(libraryOfPoints(1).flowFor(['breast-lift']).hash);
    expect(head?.outcome).toContain(TWO_AND_ONE);
  });

  test('gives its own reason, and not that a nurse had raised the outcome', async () => {
    const { again } = await onLostFlow(1);
    expect(again.reasons).toContain('script-gone');
    expect(again.reasons).not.toContain('nurse-raised');
  });

  test('and so is one that an earlier program compiled in another format', async () => {
    const { store } = openedMemory();
    const ring = await aPractice({ store }).ring();
    await ring.answerAll(SWOLLEN);
    const { compiled } = ring.done.runner;
    const older = { ...compiled, flow: { ...compiled.flow, format: 1 } } as unknown as typeof compiled;
    const practice = aPractice({ store, library: libraryOfPoints(1) });
    const flows = { ...store.flows, read: () => Promise.resolve(ok(older)) };
    const again = await takenUp({ ...practice, deps: { ...practice.deps, keptFlows: flows } }, ring.call);
    expect(again.result).toBe(TWO_AND_ONE);
    expect(again.reasons).toContain('script-gone');
  });

  test('may raise the outcome', async () => {
    const { again } = await onLostFlow(8);
    expect(again.result).toBe('urgent-escalation/1-hour');
  });

  test('does not let a mis-keyed answer take the call below what it had come to', async () => {
    const { again } = await onLostFlow(1);
    await again.volunteers({ swelling: 'none' }, 'mis-keyed');
    await again.answerAll();
    expect(again.result).toBe(TWO_AND_ONE);
  });

  test('is replaced once; the turns after it add nothing of the kind', async () => {
    const { ring, again, store } = await onLostFlow(1);
    await again.says({ kind: 'note', text: 'Once more.' });
    const events = valueOf(await store.calls.events(ring.call));
    expect(events.filter(({ by }) => by === 'system').map(({ type }) => type)).toEqual([
      'raised',
      'assessed',
    ]);
  });

  test('shows a closed call no milder than it ended', async () => {
    const { ring, practice } = await onLostFlow(1, async (call) => {
      await call.says({ kind: 'tell' });
      await call.says({ kind: 'close', understood: true, agreed: '' });
    });
    const loaded = valueOf(await loadCall(practice.deps, ring.call));
    expect(loaded.snapshot.value).toBe('closed');
    expect(loaded.snapshot.context.raised).toMatchObject({ within: 'next-working-day' });
  });

  test('leaves a call that is not identified yet on the general script', async () => {
    const { store, back } = openedMemory();
    const ring = await aPractice({ store }).ring({ operated: null });
    await ring.answerNext();
    await lose(back, ring);
    const library = libraryChanged('topics/legs.yaml', 'points: { clot: 2 }', 'points: { clot: 3 }');
    const again = await takenUp(aPractice({ store, library }), ring.call);
    expect(again.done.runner.compiled).toBe(library.general);
    expect(again.done.runner.compiled.hash).not.toBe(ring.done.runner.compiled.hash);
    expect(again.done.standing.context.asked).toEqual(ring.done.standing.context.asked);
  });
});

describe('a turn that cannot keep its script', () => {
  test('is not answered, and is taken once the script can be kept again', async () => {
    const { store } = openedMemory();
    let up = false;
    const down: Store = {
      ...store,
      flows: {
        ...store.flows,
        keep: async (compiled, at) =>
          up ? await store.flows.keep(compiled, at) : { ok: false, fault: 'store-down' },
      },
    };
    const { deps } = aPractice({ store: down });
    const ring = new Ring(deps, newCallId());
    const start = { kind: 'start', channel: 'desk', direction: 'patient-rang', callerNumber: null } as const;
    expect(await ring.tries(start)).toMatchObject({ ok: false, fault: { code: 'store-down' } });
    expect(valueOf(await store.calls.load(ring.call))).toBeNull();
    up = true;
    expect(await ring.tries(start)).toMatchObject({ ok: true });
    const { hash } = ring.done.runner.compiled;
    expect(valueOf(await store.flows.read(hash))?.hash).toBe(hash);
  });
});

describe('a token whose reply was erased', () => {
  test('is answered with a clear fault, and nothing is done a second time', async () => {
    const practice = aPractice();
    const { people, calls } = practice.store;
    const patient = aPatient();
    const operation = anOperation(patient.id, { on: '2026-03-01' });
    valueOf(await people.savePatient(patient));
    valueOf(await people.saveOperation(operation));
    const ring = await practice.ring({ operated: null });
    await ring.identify(patient.id, operation.id);
    const note = { kind: 'note', text: 'Rang twice.' } as const;
    expect(await ring.tries(note, 'once')).toMatchObject({ ok: true });
    valueOf(await people.erasePatient(patient.id));
    const before = valueOf(await calls.events(ring.call));
    expect(await ring.tries(note, 'once')).toEqual({
      ok: false,
      fault: fault(
        'not-now',
        'This was answered before, and the answer was erased since; nothing was changed.',
      ),
    });
    expect(valueOf(await calls.events(ring.call))).toEqual(before);
  });
});

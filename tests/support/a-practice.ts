/** An invented practice that really runs: the rules fixture's flows, the store in memory, a clock that stands still. */
import { join } from 'node:path';
import type { Clock } from '../../src/basics/clock.ts';
import { newId, type CallId, type PromiseId } from '../../src/basics/ids.ts';
import { failed, ok } from '../../src/basics/result.ts';
import { fault } from '../../src/basics/fault.ts';
import { keepingOnce } from '../../src/call/flow-store.ts';
import type { Hearing } from '../../src/call/hear.ts';
import { makeRunners } from '../../src/call/load-call.ts';
import { makeLoadedCalls } from '../../src/call/loaded-calls.ts';
import type { TurnDeps } from '../../src/call/turn.ts';
import { nurseCheckTime } from '../../src/clinical/nurse-check.ts';
import { promiseTime, type OpeningHours } from '../../src/clinical/promise-time.ts';
import { showDiagnostic } from '../../src/content/diagnostic.ts';
import { readFolder, type TextFile } from '../../src/content/read-folder.ts';
import { loadFlows, type FlowLibrary } from '../../src/flow/library.ts';
import { following, type FollowSettings } from '../../src/follow/after-turn.ts';
import { openMemory } from '../../src/store/memory.ts';
import type { Store } from '../../src/store/store.ts';
import { aPlan } from './a-plan.ts';
import { aRing, type Ring } from './a-ring.ts';
import { fixedClock, type FixedClock } from './fixed-clock.ts';
import { projectFolder } from './project-files.ts';

/** Monday 2 March 2026, 10:00 in London: the clinic is open, and surgery was on this day. */
export const NOW = Date.parse('2026-03-02T10:00:00Z');
const ZONE = 'Europe/London';

const open = { opens: '08:00', closes: '18:00' };
const HOURS: OpeningHours = {
  zone: ZONE,
  week: {
    monday: open,
    tuesday: open,
    wednesday: open,
    thursday: open,
    friday: open,
    saturday: null,
    sunday: null,
  },
  closedDates: [],
};

/** The practice rules: 2 and 5 minutes a rung, the caller rung after 20. */
export const REACHING: FollowSettings = {
  plan: aPlan(),
  minutes: { emergency: 2, hour: 5 },
  callerRungAfterMinutes: 20,
  lateMinutes: 15,
  textAnswerMinutes: 5,
};

/** What the caller's first words say, by the words themselves; all other words say nothing that a script knows. */
const HEARD: Readonly<Record<string, Readonly<Record<string, string | number>>>> = {
  'When may I drive again?': { 'asks-driving': 'yes' },
  'It is swollen on one side': { swelling: 'one-sided' },
  'I cannot get my breath': { breathless: 'yes' },
};

export interface Practice {
  readonly deps: TurnDeps;
  readonly store: Store;
  readonly clock: FixedClock;
  readonly library: FlowLibrary;
  /** A call that has begun; nothing is asked or said yet. */
  readonly ring: (changes?: Parameters<typeof aRing>[1]) => Promise<Ring>;
}

interface Changes {
  readonly clinic?: 'open' | 'closed';
  readonly library?: FlowLibrary;
  /** A store that others hold, too. */
  readonly store?: Store;
  readonly clock?: FixedClock;
}

export function aPractice(changes: Changes = {}): Practice {
  const clock = changes.clock ?? fixedClock(NOW);
  const store = changes.store ?? openMemory({ practiceKey: Buffer.alloc(32, 7) });
  const library = changes.library ?? rulesLibrary();
  const deps = depsOf({ clock, store, library, clinic: changes.clinic ?? 'open' });
  return { deps, store, clock, library, ring: (ring) => aRing(deps, ring) };
}

interface Parts {
  readonly clock: Clock;
  readonly store: Store;
  readonly library: FlowLibrary;
  readonly clinic: 'open' | 'closed';
}

function depsOf({ clock, store, library, clinic }: Parts): TurnDeps {
  const hearing: Hearing = {
    lexiconHash: 'lexicon',
    understand: ({ text }) => {
      return { findings: HEARD[text] ?? {}, danger: false, confirm: [], understood: true, because: [] };
    },
  };
  return {
    store: store.calls,
    flows: library,
    keptFlows: keepingOnce(store.flows),
    runners: makeRunners(),
    loaded: makeLoadedCalls(100),
    hearing,
    identifying: {
      people: async (patientId, operationId) => {
        if (patientId === null) return ok({ patient: null, operation: null });
        const found = await store.people.patient(patientId);
        if (!found.ok) return failed(fault('store-down', 'The patients cannot be read now.'));
        const operation = found.value?.operations.find(({ id }) => id === operationId) ?? null;
        return ok({ patient: found.value?.patient ?? null, operation });
      },
      isClinicOpen: () => clinic === 'open',
    },
    clock,
    newId: () => newId<PromiseId>(),
    zone: ZONE,
    programVersion: 'test',
    dueAt: (within, now) => {
      const time = promiseTime(within, { now, hours: HOURS, visitMinutes: 60 });
      return time.ok ? time.value.dueAt : null;
    },
    onCallFirst: () => 'dr-ferreday',
    nurseCheckAt: (day, now) => nurseCheckTime(day, now, HOURS),
    following: following(REACHING),
  };
}

let known: FlowLibrary | null = null;

/** The flows of tests/fixtures/flows-rules, compiled once. */
export function rulesLibrary(): FlowLibrary {
  known ??= libraryWith([]);
  return known;
}

/** The same flows with further files, or with other text in one of them. */
export function libraryWith(more: readonly TextFile[]): FlowLibrary {
  const texts = readFolder(join(projectFolder, 'tests', 'fixtures', 'flows-rules'));
  const kept = texts.ok ? texts.value.filter(({ below }) => !more.some((one) => one.below === below)) : [];
  const library = texts.ok ? loadFlows([...kept, ...more]) : texts;
  if (!library.ok) throw new Error(library.fault.map(showDiagnostic).join('\n'));
  return library.value;
}

export function newCallId(): CallId {
  return newId<CallId>();
}

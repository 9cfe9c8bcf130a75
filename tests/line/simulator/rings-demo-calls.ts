/** A server whose record holds the patients of demo calls, and each call both ways: rung on it, and replayed. */
import type { DemoCall } from '../../../src/terminal/demo-call.ts';
import { playCall } from '../../../src/terminal/play-call.ts';
import { readCalls } from '../../../src/terminal/read-calls.ts';
import { LADDER, rank, type Outcome } from '../../../src/clinical/outcome.ts';
import { turnDeps } from '../../../src/server/compose.ts';
import { openMemory } from '../../../src/store/memory.ts';
import { fixedClock } from '../../support/fixed-clock.ts';
import { listFiles } from '../../support/project-files.ts';
import { realContent } from '../../support/real-flows.ts';
import { Call, type Ringing } from './call.ts';
import { talk, type Means } from './demo-caller.ts';
import { eveningZone, inTheEvening, openInTheEvening } from './evening.ts';
import { keptCall, savePatients, type DemoPatient } from './demo-patients.ts';
import { aServer, type Server } from './server-process.ts';

const content = realContent();
const memory = turnDeps(content, openMemory({ practiceKey: Buffer.alloc(32, 7) }), fixedClock(0));

export interface Found {
  readonly place: string;
  readonly demo: DemoCall;
}

/**
 * Every demo call that a stranger to the program can ring: without earlier calls, which the record would have to hold,
 * and at the hours of the clinic that are given.
 */
export function ringable(clinic: 'open' | 'closed'): readonly Found[] {
  const found = readCalls(listFiles('demo-calls', ['.yaml']));
  if (!found.ok) throw new Error(found.fault.message);
  return found.value
    .map(({ call, place }) => ({ place, demo: call }))
    .filter(({ demo }) => demo.earlierCalls === undefined && (demo.clinic ?? 'open') === clinic);
}

/** What a nurse ticks without asking cannot be keyed. */
function keyable(demo: DemoCall): DemoCall {
  const facts = Object.entries(demo.facts ?? {}).filter(
    ([id]) => id !== 'caller-is' && id !== 'caller-very-worried' && !id.startsWith('asks-'),
  );
  return { ...demo, facts: Object.fromEntries(facts) };
}

export interface Desk {
  readonly server: Server;
  readonly demos: readonly Found[];
  readonly patients: readonly DemoPatient[];
}

/** Open all day, or with the hours of the demo, which are over in the evening. */
export async function aDesk(clinic: 'open' | 'closed', demos: readonly Found[]): Promise<Desk> {
  const server = await aServer({ practice: clinic === 'open' ? openInTheEvening : inTheEvening });
  const patients = await savePatients(
    server.dataDir,
    eveningZone(),
    // The first half rings by keys, the second by speech.
    [...demos, ...demos].map(({ demo }) => demo),
  );
  await server.start();
  return { server, demos, patients };
}

export interface BothWays {
  readonly rung: string;
  readonly replayed: string;
  /** How much higher it ended on the line, in steps of the ladder of outcomes; below 0 is lower. */
  readonly higher: number;
}

/** What the server kept as the outcome, and what the same call comes to when it is replayed. */
export async function bothWays(desk: Desk, at: number, by: Means['by']): Promise<BothWays> {
  const { demo: whole } = desk.demos[at] ?? {};
  const patient = desk.patients[by === 'keys' ? at : at + desk.demos.length];
  if (whole === undefined || patient === undefined) throw new Error('No such demo call');
  const demo = by === 'keys' ? keyable(whole) : whole;
  const call = await ring(desk, { from: patient.number });
  const flows = [
    content.library.flowFor([demo.procedure, ...(demo.also ?? [])], demo.operation?.surgeon),
    content.library.general,
  ];
  const operation = content.lineWords.procedures[demo.procedure]?.[0] ?? 'something else';
  await talk(call, demo, { by, born: patient.born, operation, flows });
  const kept = keptCall(desk.server.dataDir, call.sid);
  const replayed = await playCall(memory, demo, {
    withOpening: by === 'speech',
    callerNumber: '+447700900900',
  });
  if (!replayed.ok) throw new Error(replayed.fault.message);
  const expected = replayed.value.done.standing.assessment.outcome;
  const rung = kept.outcome ?? 'no outcome';
  return {
    rung,
    replayed: textOf(expected),
    higher: LADDER.findIndex((one) => textOf(one) === rung) - rank(expected),
  };
}

function textOf({ outcome, within, emergency }: Outcome): string {
  return `${outcome}/${within}/${emergency ? 'emergency' : '-'}`;
}

function ring({ server }: Pick<Desk, 'server'>, ringing: Ringing = {}): Promise<Call> {
  return Call.rings(server.site, ringing);
}

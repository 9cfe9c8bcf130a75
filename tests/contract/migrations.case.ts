/** What every migration leaves behind, starting from the rows of the one before it. */
import { sql } from 'kysely';
import type { Insertable, Kysely } from 'kysely';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { CallId, FlowHash, MessageId, OperationId, PatientId, PromiseId } from '../../src/basics/ids.ts';
import type { Dialect } from '../../src/store/migrations/append-only.ts';
import { migrate, migrations } from '../../src/store/migrations/migrate.ts';
import type { Tables } from '../../src/store/schema.ts';
import { START } from './a-turn.ts';

export interface MigrationBase {
  readonly db: Kysely<Tables>;
  readonly dialect: Dialect;
}

type OpenBase = () => Promise<MigrationBase>;

const FACTS: Readonly<Record<string, (open: OpenBase) => void>> = {
  '0001-record': recordFacts,
  '0002-people': peopleFacts,
  '0003-flows': flowFacts,
  '0004-outbox': outboxFacts,
  '0005-audit-trail': auditFacts,
  '0006-audits': callAuditFacts,
};

export function migrationFacts(open: OpenBase): void {
  it('every migration has its facts', async () => {
    const { dialect } = await based(open);
    expect(Object.keys(migrations(dialect))).toEqual(Object.keys(FACTS));
  });

  it('migrating what is migrated changes nothing', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect);
    await addRecord(db);
    await migrate(db, dialect);
    expect(await db.selectFrom('events').selectAll().execute()).toHaveLength(1);
  });

  for (const [name, facts] of Object.entries(FACTS)) describe(`migration ${name}`, () => facts(open));
}

function recordFacts(open: OpenBase): void {
  it('makes tables that hold a call with everything that belongs to it', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect, '0001-record');
    await addRecord(db);
    expect(await recordOf(db)).toEqual([
      [{ ...CALL, checked_seq: 0 }],
      [EVENT],
      [TURN],
      [PROMISE],
      [KEY],
      [CHECKPOINT],
    ]);
  });

  it('refuses a second event with the same number, and an event of no call', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect, '0001-record');
    await addRecord(db);
    await expect(db.insertInto('events').values(EVENT).execute()).rejects.toThrow(/unique/i);
    const stray = { ...EVENT, call: 'nobody' as CallId };
    await expect(db.insertInto('events').values(stray).execute()).rejects.toThrow(/foreign key/i);
  });

  it('refuses a second turn with the same token', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect, '0001-record');
    await addRecord(db);
    await expect(db.insertInto('turns').values(TURN).execute()).rejects.toThrow(/unique/i);
  });

  it('refuses to change or drop an event or a checkpoint', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect, '0001-record');
    await addRecord(db);
    for (const table of ['events', 'checkpoints'] as const) {
      await expect(db.updateTable(table).set({ at: 1 }).execute()).rejects.toThrow(/append-only/);
      await expect(db.deleteFrom(table).execute()).rejects.toThrow(/append-only/);
    }
  });
}

function peopleFacts(open: OpenBase): void {
  it('leaves every row of the record as it was', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect, '0001-record');
    await addRecord(db);
    const before = await recordOf(db);
    await migrate(db, dialect, '0002-people');
    expect(await recordOf(db)).toEqual(before);
  });

  it('makes tables for patients, operations and search tokens', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect, '0002-people');
    const patient = { id: 'p-1' as PatientId, sealed: 'AA==' };
    const operation = { id: 'o-1' as OperationId, patient_id: patient.id, sealed: 'AA==' };
    const token = { token: 'f00d', patient_id: patient.id };
    await db.insertInto('patients').values(patient).execute();
    await db.insertInto('operations').values(operation).execute();
    await db.insertInto('search_tokens').values(token).execute();
    expect(await db.selectFrom('operations').selectAll().execute()).toEqual([operation]);
    await expect(db.insertInto('search_tokens').values(token).execute()).rejects.toThrow(/unique/i);
  });
}

function flowFacts(open: OpenBase): void {
  it('leaves every row of the record as it was', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect, '0002-people');
    await addRecord(db);
    const before = await recordOf(db);
    await migrate(db, dialect, '0003-flows');
    expect(await recordOf(db)).toEqual(before);
  });

  it('makes a table that holds a flow once and refuses to change or drop it', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect, '0003-flows');
    const flow = { hash: 'f' as FlowHash, content: '{}', kept_at: START };
    await db.insertInto('flows').values(flow).execute();
    expect(await db.selectFrom('flows').selectAll().execute()).toEqual([flow]);
    await expect(db.insertInto('flows').values(flow).execute()).rejects.toThrow(/unique/i);
    await expect(db.updateTable('flows').set({ content: '' }).execute()).rejects.toThrow(/append-only/);
    await expect(db.deleteFrom('flows').execute()).rejects.toThrow(/append-only/);
  });
}

function outboxFacts(open: OpenBase): void {
  it('leaves every row of the record as it was', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect, '0003-flows');
    await addRecord(db);
    const before = await recordOf(db);
    await migrate(db, dialect, '0004-outbox');
    expect(await recordOf(db)).toEqual(before);
  });

  it('makes a table that holds a message of a call once, in a state that there is', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect, '0004-outbox');
    await addRecord(db);
    await db.insertInto('outbox').values(MESSAGE).execute();
    expect(await db.selectFrom('outbox').selectAll().execute()).toEqual([MESSAGE]);
    await expect(db.insertInto('outbox').values(MESSAGE).execute()).rejects.toThrow(/unique/i);
    const stray = { ...MESSAGE, id: 'm-2' as MessageId, call: 'nobody' as CallId };
    await expect(db.insertInto('outbox').values(stray).execute()).rejects.toThrow(/foreign key/i);
    const lost = db.updateTable('outbox').set({ state: sql<'failed'>`'lost'` });
    await expect(lost.execute()).rejects.toThrow(/check/i);
  });

  it('makes a table that holds a number that texts once', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect, '0004-outbox');
    const number = { token: 'f00d', call: null, begun_at: null, stopped_at: START };
    await db.insertInto('text_numbers').values(number).execute();
    expect(await db.selectFrom('text_numbers').selectAll().execute()).toEqual([number]);
    await expect(db.insertInto('text_numbers').values(number).execute()).rejects.toThrow(/unique/i);
  });
}

function auditFacts(open: OpenBase): void {
  it('leaves every row of the record as it was', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect, '0004-outbox');
    await addRecord(db);
    const before = await recordOf(db);
    await migrate(db, dialect, '0005-audit-trail');
    expect(await recordOf(db)).toEqual(before);
  });

  it('makes a table of entries that cannot be changed or dropped', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect, '0005-audit-trail');
    const entry = {
      id: 'e-1',
      at: START,
      who: 'nurse-1',
      role: null,
      what: 'w',
      about: '[]',
      from_address: '192.0.2.1',
    };
    await db.insertInto('audit_entries').values(entry).execute();
    expect(await db.selectFrom('audit_entries').selectAll().execute()).toEqual([entry]);
    await expect(db.insertInto('audit_entries').values(entry).execute()).rejects.toThrow(/unique/i);
    await expect(db.updateTable('audit_entries').set({ who: '' }).execute()).rejects.toThrow(/append-only/);
    await expect(db.deleteFrom('audit_entries').execute()).rejects.toThrow(/append-only/);
  });
}

function callAuditFacts(open: OpenBase): void {
  it('leaves every row of the record as it was, and makes a table that is only added to', async () => {
    const { db, dialect } = await based(open);
    await migrate(db, dialect, '0005-audit-trail');
    await addRecord(db);
    const before = await recordOf(db);
    await migrate(db, dialect, '0006-audits');
    expect(await recordOf(db)).toEqual(before);
    const audit = { id: 'a-1', call: CALL.id, at: START, who: 'precious-adeyinka', sealed: 's' };
    await db.insertInto('audits').values(audit).execute();
    expect(await db.selectFrom('audits').selectAll().execute()).toEqual([audit]);
    const stray = { ...audit, id: 'a-2', call: 'nobody' as CallId };
    await expect(db.insertInto('audits').values(stray).execute()).rejects.toThrow(/foreign key/i);
    await expect(db.updateTable('audits').set({ who: '' }).execute()).rejects.toThrow(/append-only/);
    await expect(db.deleteFrom('audits').execute()).rejects.toThrow(/append-only/);
  });
}

const CALL = {
  id: 'c-1' as CallId,
  seq: 1,
  hash: 'h1',
  channel: 'line',
  direction: 'patient-rang',
  started_at: START,
  zone: 'Europe/London',
  patient_id: null,
  operation_id: null,
  flow_hash: 'f' as FlowHash,
  lexicon_hash: 'l',
  program_version: '0.1.0',
  state: 'open',
  outcome: null,
  about: null,
} satisfies Insertable<Tables['calls']>;
const EVENT = {
  call: CALL.id,
  seq: 1,
  at: START,
  by: 'line',
  type: 'heard',
  v: 1,
  open: '{}',
  sealed: null,
  prev: '',
  hash: 'h1',
} satisfies Insertable<Tables['events']>;
const TURN = { call: CALL.id, token: 't', seq: 1, reply: 'AA==' };
const PROMISE = {
  id: 'r-1' as PromiseId,
  call: CALL.id,
  kind: 'review',
  opened_at: START,
  due_at: null,
  owner: 'user:nurse-1',
  state: 'open',
  open: '{}',
} satisfies Insertable<Tables['promises']>;
const MESSAGE = {
  id: 'm-1' as MessageId,
  call: CALL.id,
  promise: PROMISE.id,
  kind: 'page',
  who: null,
  template: 'escalation',
  sealed: null,
  due_at: START,
  state: 'queued',
  tries: 0,
  claimed_at: null,
  claimed_by: null,
  provider_id: null,
} satisfies Insertable<Tables['outbox']>;
const KEY = { kind: 'call', id: CALL.id, wrapped_by: null, wrapped: 'AA==' } satisfies Insertable<
  Tables['wrapped_keys']
>;
const CHECKPOINT = { n: 1, at: START, heads: '[]', prev: '', hash: 'k1' };

async function addRecord(db: Kysely<Tables>): Promise<void> {
  await db.insertInto('calls').values(CALL).execute();
  await db.insertInto('events').values(EVENT).execute();
  await db.insertInto('turns').values(TURN).execute();
  await db.insertInto('promises').values(PROMISE).execute();
  await db.insertInto('wrapped_keys').values(KEY).execute();
  await db.insertInto('checkpoints').values(CHECKPOINT).execute();
}

async function recordOf(db: Kysely<Tables>): Promise<readonly unknown[]> {
  const tables = ['calls', 'events', 'turns', 'promises', 'wrapped_keys', 'checkpoints'] as const;
  const rows: unknown[] = [];
  for (const table of tables) rows.push(await db.selectFrom(table).selectAll().execute());
  return rows;
}

async function based(open: OpenBase): Promise<MigrationBase> {
  const base = await open();
  onTestFinished(() => base.db.destroy());
  return base;
}

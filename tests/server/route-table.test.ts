/** Every route of the running application stands in the one table, and each lets in exactly the roles it names. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ROLES, type Role } from '../../src/people/staff.ts';
import { ROUTE_TABLE, tableFor, type RouteRow } from '../../src/server/route-table.ts';
import { pino } from 'pino';
import { app } from '../../src/server/app.ts';
import { loadContent } from '../../src/server/content.ts';
import { reachDeps } from '../../src/server/due-deps.ts';
import { lineDeps } from '../../src/server/line-deps.ts';
import { speech } from '../../src/server/trial-phone/speech.ts';
import { deskDeps } from '../../src/server/start.ts';
import { openMemory } from '../../src/store/memory.ts';
import { aSignIn } from '../support/a-sign-in.ts';
import { fixedClock } from '../support/fixed-clock.ts';
import { demoNameOf, signInAs } from '../support/sign-in-as.ts';
import { tempDir } from '../support/temp-dir.ts';
import { aDesk, DESK_NOW, smallContent, type Desk } from '../support/a-desk.ts';
import { routesOf } from '../support/routes-of.ts';

let desk: Desk;
beforeAll(async () => {
  desk = await aDesk('small');
});
afterAll(() => desk.remove());

const NOBODY = '01980000-0000-7000-8000-00000000ffff';
/** The desk of the tests is a demonstration. */
const rows = tableFor('demo').map((row) => [`${row.method} ${row.path}`, row] as const);

interface Answered {
  readonly status: number;
  readonly location: string;
  /** Of what is no JSON, or never ends, an empty object. */
  readonly body: { readonly fault?: { readonly code?: string } };
}

async function ask({ method, path }: RouteRow, role: Role | null): Promise<Answered> {
  const address = path.replace('{*rest}', 'anything').replace(/:\w+/g, NOBODY);
  const cookie = role === null ? '' : await cookieFor(path, role);
  const stop = new AbortController();
  const { status, headers, ...response } = await fetchOf(`${desk.address}${address}`, {
    method: method.toUpperCase(),
    headers: { 'X-Call-Desk': 'test', Cookie: cookie },
    redirect: 'manual',
    signal: stop.signal,
  });
  const isJson = headers.get('content-type')?.includes('application/json') === true;
  const body = isJson ? ((await response.json()) as Answered['body']) : {};
  stop.abort();
  return { status, location: headers.get('location') ?? '', body };
}

/** The parts of an answer, with its body still to be read. */
async function fetchOf(address: string, init: RequestInit) {
  const response = await fetch(address, init);
  return { status: response.status, headers: response.headers, json: () => response.json() };
}

/** Signing out ends a session, so it gets one of its own. */
function cookieFor(path: string, role: Role): Promise<string> {
  const isEnd = path.startsWith('/sign-out');
  return isEnd
    ? signInAs(desk.address, { name: demoNameOf(role), password: desk.password })
    : desk.as(role).cookie();
}

const TO_SIGN_IN = /^\/sign-in\?to=/;

/** Turned away at the door: not signed in, or not with this role. */
function isTurnedAway({ status, location, body }: Answered): boolean {
  if (status === 401 || TO_SIGN_IN.test(location)) return true;
  return status === 403 && (body.fault === undefined || body.fault.code === 'not-allowed');
}

describe('the table', () => {
  test('names every route of the application, and no other', async () => {
    const folder = tempDir();
    const content = loadContent(smallContent(folder));
    if (!content.ok) throw new Error('The content does not load');
    const { doors } = await aSignIn(content.value, folder);
    const store = openMemory({ practiceKey: Buffer.alloc(32, 7) });
    const desk = deskDeps(content.value, store, fixedClock(DESK_NOW));
    const log = pino({ level: 'silent' });
    const line = lineDeps(content.value, desk, { providerToken: 'test', publicUrl: 'http://127.0.0.1', log });
    const express = app({
      desk,
      line,
      reach: reachDeps(content.value, line, store),
      trial: { speech: speech(), address: () => '' },
      files: { shell: '', entry: '', scripts: new Map(), style: '' },
      ...doors,
      log,
    });
    const found = routesOf(express).filter((route) => !isProviders(route));
    await doors.signIn.close();
    const listed = rows.map(([name]) => name).filter((name) => !isProviders(name));
    expect(found.toSorted()).toEqual(listed.toSorted());
  });

  test('keeps the trial phone of a real practice for its administrator', () => {
    const trial = ROUTE_TABLE.filter(({ path }) => /^\/trial-phone($|\/)/.test(path));
    expect(trial.map(({ access }) => access)).toEqual(trial.map(() => ({ roles: ['administrator'] })));
    expect(trial).toHaveLength(3);
  });

  test('names no address twice', () => {
    expect(new Set(rows.map(([name]) => name)).size).toBe(rows.length);
  });
});

/** Listed by their beginning, since each checks the provider's signature itself. */
function isProviders(route: string): boolean {
  return /^post \/(line|text)\//.test(route);
}

/** Signing out everywhere comes last: it ends what the others are asked with. */
const inOrder = rows.toSorted(
  ([a], [b]) => Number(a.includes('/sign-out')) - Number(b.includes('/sign-out')),
);

describe.each(inOrder)('%s', (_name, row) => {
  const { access } = row;
  if ('open' in access) {
    test('is open to anybody, for a reason', async () => {
      expect(access.open.length).toBeGreaterThan(10);
      const { location } = await ask(row, null);
      expect(location).not.toMatch(TO_SIGN_IN);
    });
  } else if ('roles' in access) {
    test('lets in its roles and nobody else', async () => {
      expect(isTurnedAway(await ask(row, null))).toBe(true);
      const letIn: Role[] = [];
      for (const role of ROLES) {
        if (!isTurnedAway(await ask(row, role))) letIn.push(role);
      }
      expect(letIn).toEqual(ROLES.filter((one) => access.roles.includes(one)));
    });
  } else {
    test('changes nothing without the provider’s signature', async () => {
      expect([403, 404]).toContain((await ask(row, null)).status);
    });
  }
});

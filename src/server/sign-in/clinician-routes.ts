/**
 * A link and a PIN on a telephone: they open one escalation to one on-call clinician, in the one browser in which the PIN
 * was typed first, and nothing else. There the clinician reads the handover, accepts, or confirms a lower outcome.
 */
import { json, Router, type Request, type Response } from 'express';
import { z } from 'zod';
import { newKey } from '../../store/sealing.ts';
import type { CallId, PromiseId } from '../../basics/ids.ts';
import type { TurnInput } from '../../call/input.ts';
import { loadCall, type Loaded } from '../../call/load-call.ts';
import { turn, type TurnDeps } from '../../call/turn.ts';
import type { Gates } from '../gates.ts';
import { accountNamed, type Account } from './accounts.ts';
import { showEscalation, showGone, showPin } from './clinician-page.ts';
import type { LinkRow } from './database.ts';
import { cookieNamed, readForm } from './form.ts';
import { hashOf } from './links.ts';
import { isPin } from './pins.ts';
import type { SignIn } from './sign-in.ts';
import { WORDS } from './words.ts';

const COOKIE = 'call-desk.escalation';
const LINK_MILLIS = 12 * 3_600_000;
const WRONG_PINS = 5;

const mintSchema = z.object({ clinician: z.string().max(80) });
const pinSchema = z.object({ pin: z.string().max(12) });
const lowerSchema = z.object({ why: z.string().trim().min(1).max(2000) });

export interface ClinicianParts {
  readonly signIn: SignIn;
  readonly turn: TurnDeps;
}

export function clinicianRoutes({ signIn, turn: deps }: ClinicianParts, { whoOf }: Gates): Router {
  const router = Router();
  router.post('/api/calls/:id/clinician-link', json({ limit: '1kb' }), async (request, response) => {
    const read = mintSchema.safeParse(request.body);
    const account = read.success ? await accountNamed(signIn.auth, read.data.clinician) : null;
    const loaded = await loadCall(deps, request.params.id as CallId);
    const isOpen = loaded.ok && openEscalation(loaded.value) !== null;
    if (account?.role !== 'on-call-clinician' || account.disabled || !isOpen) {
      response.status(409).json({ fault: { code: 'not-now', message: NO_LINK }, ring: [] });
      return;
    }
    const call = request.params.id;
    const secret = await signIn.links.mint({ kind: 'escalation', staff: account.id, call }, LINK_MILLIS);
    await signIn.writeDown(request, { act: 'invited', who: whoOf(response), about: [call, account.id] });
    response.setHeader('Cache-Control', 'no-store');
    response.json({ link: `${signIn.url}/clinician/${secret}` });
  });
  router.get('/clinician/:secret', async (request, response) => {
    const at = await opened({ signIn, turn: deps }, request);
    if (at === 'gone') showGone(signIn, response);
    else if (at === 'pin') showPin(signIn, response, { secret: request.params.secret, wrong: null });
    else await show({ signIn, request, response, at, said: null });
  });
  router.post('/clinician/:secret', readForm, (request, response) => takePin(signIn, request, response));
  router.post('/clinician/:secret/accept', async (request, response) => {
    await act({ signIn, deps, request, response }, (who) => ({ kind: 'accept', clinician: who.name }));
  });
  router.post('/clinician/:secret/lower', readForm, async (request, response) => {
    const read = lowerSchema.safeParse(request.body);
    await act({ signIn, deps, request, response }, (who, { snapshot }) => {
      const to = snapshot.context.loweringAsked;
      if (!read.success || to === null) return null;
      return { kind: 'lower', to, clinician: who.name, spokeToPatient: true, why: read.data.why };
    });
  });
  return router;
}

const NO_LINK =
  'A link is made for an open escalation and an on-call clinician of the staff; choose one of them.';

export interface Opened {
  readonly link: LinkRow;
  readonly who: Account;
  readonly loaded: Loaded;
  readonly secret: string;
}

/** `pin`: nobody has opened it yet. `gone`: used in another browser, late, or never there. */
async function opened(
  { signIn, turn: deps }: ClinicianParts,
  request: Request<{ readonly secret: string }>,
): Promise<Opened | 'pin' | 'gone'> {
  const { secret } = request.params;
  const link = await signIn.links.find(secret);
  if (link?.kind !== 'escalation' || link.call === null) return 'gone';
  if (link.session === null) return 'pin';
  const cookie = cookieNamed(request, COOKIE);
  if (cookie === undefined || hashOf(cookie) !== link.session) return 'gone';
  const who = await accountNamed(signIn.auth, link.staff);
  const loaded = await loadCall(deps, link.call as CallId);
  if (who?.role !== 'on-call-clinician' || who.disabled || !loaded.ok) return 'gone';
  return { link, who, loaded: loaded.value, secret };
}

async function takePin(
  signIn: SignIn,
  request: Request<{ readonly secret: string }>,
  response: Response,
): Promise<void> {
  const { secret } = request.params;
  const read = pinSchema.safeParse(request.body);
  const link = await signIn.links.find(secret);
  if (link?.kind !== 'escalation' || link.session !== null) {
    showGone(signIn, response);
    return;
  }
  // Counted before it is looked at, so that many at once are not one.
  const tries = await countTry(signIn, link);
  const isRight =
    read.success && tries <= WRONG_PINS && (await isPin(signIn.database, link.staff, read.data.pin));
  const who = await accountNamed(signIn.auth, link.staff);
  const about = link.call === null ? [] : [link.call];
  if (!isRight) {
    await signIn.writeDown(request, { act: 'escalation link refused', who, about });
    if (tries >= WRONG_PINS) await signIn.links.use(secret);
    showPin(signIn, response, { secret, wrong: WORDS.clinician.wrong });
    return;
  }
  const cookie = newKey().toString('base64url');
  if (!(await bind(signIn, link, hashOf(cookie)))) {
    showGone(signIn, response);
    return;
  }
  await signIn.writeDown(request, { act: 'escalation opened by link', who, about });
  response.cookie(COOKIE, cookie, {
    httpOnly: true,
    sameSite: 'strict',
    secure: signIn.isSecure,
    path: '/clinician',
    maxAge: LINK_MILLIS,
  });
  response.redirect(303, `/clinician/${secret}`);
}

async function countTry({ database }: SignIn, { hash }: LinkRow): Promise<number> {
  await database.db
    .updateTable('links')
    .set((row) => ({ failures: row('failures', '+', 1) }))
    .where('hash', '=', hash)
    .execute();
  const row = await database.db
    .selectFrom('links')
    .select('failures')
    .where('hash', '=', hash)
    .executeTakeFirst();
  return row?.failures ?? Number.MAX_SAFE_INTEGER;
}

/** False when another browser was quicker. */
async function bind({ database }: SignIn, { hash }: LinkRow, session: string): Promise<boolean> {
  const { numUpdatedRows } = await database.db
    .updateTable('links')
    .set({ session })
    .where('hash', '=', hash)
    .where('session', 'is', null)
    .executeTakeFirst();
  return numUpdatedRows > 0n;
}

interface Acting {
  readonly signIn: SignIn;
  readonly deps: TurnDeps;
  readonly request: Request<{ readonly secret: string }>;
  readonly response: Response;
}

/** The same act again is the same turn. */
async function act(
  { signIn, deps, request, response }: Acting,
  inputOf: (who: Account, loaded: Loaded) => TurnInput | null,
): Promise<void> {
  const at = await opened({ signIn, turn: deps }, request);
  if (at === 'gone' || at === 'pin') {
    showGone(signIn, response);
    return;
  }
  const input = inputOf(at.who, at.loaded);
  const { call, hash } = at.link;
  const token = `link-${input?.kind ?? ''}-${hash.slice(0, 32)}`;
  const by = `user:${at.who.id}` as const;
  const done =
    input === null || call === null ? null : await turn(deps, { call: call as CallId, token, by, input });
  if (done?.ok === true) {
    await signIn.writeDown(request, {
      act: input?.kind === 'lower' ? 'lowering confirmed by link' : 'escalation accepted by link',
      who: at.who,
      about: call === null ? [] : [call],
    });
  }
  const again = await opened({ signIn, turn: deps }, request);
  if (again === 'gone' || again === 'pin') showGone(signIn, response);
  else await show({ signIn, request, response, at: again, said: done?.ok === true ? input : 'refused' });
}

export interface Showing {
  readonly signIn: SignIn;
  readonly request: Request;
  readonly response: Response;
  readonly at: Opened;
  readonly said: TurnInput | 'refused' | null;
}

async function show(showing: Showing): Promise<void> {
  const { signIn, request, at } = showing;
  const about = at.link.call === null ? [] : [at.link.call];
  await signIn.writeDown(request, { act: 'handover read by link', who: at.who, about });
  showEscalation(showing);
}

function openEscalation({ snapshot }: Loaded): PromiseId | null {
  const { escalation } = snapshot.context.promises;
  return escalation?.state === 'open' ? escalation.id : null;
}

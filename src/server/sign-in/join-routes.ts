/** Links into the desk: the first administrator's on an empty practice, and everybody's invitation. */
import { Router, type Response } from 'express';
import { z } from 'zod';
import type { StaffMember } from '../../people/staff.ts';
import { staffIdSchema } from '../../people/staff.ts';
import { accountNamed, addAccount, listAccounts, setPassword, signInName } from './accounts.ts';
import type { LinkRow } from './database.ts';
import { form, readForm } from './form.ts';
import { html, type Html } from './html.ts';
import { field, sendPage } from './page.ts';
import { hashPassword } from './password-hash.ts';
import { wrongWith } from './password-rules.ts';
import type { SignIn } from './sign-in.ts';
import { WORDS } from './words.ts';

const words = WORDS.join;
const SET_UP_MILLIS = 24 * 3_600_000;

const joinSchema = z.object({
  link: z.string().max(100),
  password: z.string().max(400),
  id: z.string().max(80).transform(signInName).exactOptional(),
  name: z.string().trim().max(120).exactOptional(),
});
type Joining = z.infer<typeof joinSchema>;

/** The path of the link that makes the first administrator; null when there is one. */
export async function firstSetUp({ auth, links }: SignIn): Promise<string | null> {
  const accounts = await listAccounts(auth);
  if (accounts.some(({ role, disabled }) => role === 'administrator' && !disabled)) return null;
  const secret = await links.mint({ kind: 'set-up', staff: '', call: null }, SET_UP_MILLIS);
  return `/join?link=${secret}`;
}

export function joinRoutes(signIn: SignIn, staff: readonly StaffMember[]): Router {
  const router = Router();
  router.get('/join', async (request, response) => {
    const { link } = request.query;
    const secret = typeof link === 'string' ? link : '';
    await showJoin(signIn, response, { secret, wrong: null });
  });
  router.post('/join', readForm, async (request, response) => {
    const read = joinSchema.safeParse(request.body);
    const secret = read.data?.link ?? '';
    const link = await linkOf(signIn, secret);
    if (!read.success || link === null)
      return showJoin(signIn, response, { secret, wrong: WORDS.unreadable });
    const wrong =
      link.kind === 'set-up'
        ? await wrongSetUp(signIn, read.data)
        : wrongInvite(signIn, staff, { link, joining: read.data });
    if (wrong !== null) return showJoin(signIn, response, { secret, wrong });
    const hash = await hashPassword(read.data.password);
    if (!(await signIn.links.use(secret))) return showJoin(signIn, response, { secret, wrong: null });
    const id = link.kind === 'set-up' ? await addFirst(signIn, read.data, hash) : link.staff;
    const account = await accountNamed(signIn.auth, id);
    if (link.kind === 'invite' && account !== null) await setPassword(signIn.auth, account.user, hash);
    if (account !== null) signIn.sessions.forget(account.user);
    await signIn.writeDown(request, { act: 'invitation taken up', who: account });
    response.redirect(303, '/sign-in');
    return undefined;
  });
  return router;
}

async function linkOf({ links }: SignIn, secret: string): Promise<LinkRow | null> {
  const link = await links.find(secret);
  return link === null || link.kind === 'escalation' ? null : link;
}

async function showJoin(
  signIn: SignIn,
  response: Response,
  { secret, wrong }: { readonly secret: string; readonly wrong: string | null },
): Promise<void> {
  const link = await linkOf(signIn, secret);
  if (link === null) {
    sendPage(response, signIn.frame, { title: words.invited, status: 410, body: html`<p>${words.gone}</p>` });
    return;
  }
  const isSetUp = link.kind === 'set-up';
  sendPage(response, signIn.frame, {
    title: isSetUp ? words.setUp : words.invited,
    status: wrong === null ? 200 : 400,
    notice: wrong === null ? null : { kind: 'wrong', text: wrong },
    body: html`<p>${isSetUp ? words.setUpLead : link.staff}</p>
      ${form('/join', fields(secret, isSetUp), words.go)}`,
  });
}

function fields(secret: string, isSetUp: boolean): Html {
  const password = { name: 'password', type: 'password', autocomplete: 'new-password' };
  return html`<input type="hidden" name="link" value="${secret}" />
    ${isSetUp ? html`${field(words.name, { name: 'name' })} ${field(words.signInName, { name: 'id', autocomplete: 'username' })}` : null}
    ${field(words.password, password)}`;
}

async function wrongSetUp({ auth, frame }: SignIn, { id, name, password }: Joining): Promise<string | null> {
  const isName = staffIdSchema.safeParse(id).success && (await accountNamed(auth, id ?? '')) === null;
  if (!isName || name === undefined || name === '') return words.taken;
  return wrongWith(password, [id ?? '', name, frame.practice]);
}

interface Inviting {
  readonly link: LinkRow;
  readonly joining: Joining;
}

function wrongInvite(
  { frame }: SignIn,
  staff: readonly StaffMember[],
  { link, joining }: Inviting,
): string | null {
  const name = staff.find(({ id }) => id === link.staff)?.name ?? '';
  return wrongWith(joining.password, [link.staff, name, frame.practice]);
}

async function addFirst({ auth }: SignIn, { id, name }: Joining, passwordHash: string): Promise<string> {
  const who = { id: staffIdSchema.parse(id), name: name ?? '', role: 'administrator' as const };
  await addAccount(auth, { who, passwordHash });
  return who.id;
}

/** The administrator's page: who has an account and which role; invitations, new links, and what ends somebody's access. */
import { Router, type Request, type Response } from 'express';
import { z } from 'zod';
import { ROLES, staffIdSchema, type StaffMember } from '../../people/staff.ts';
import type { Gates } from '../gates.ts';
import {
  accountNamed,
  addAccount,
  changeAccount,
  listAccounts,
  signInName,
  type Account,
} from './accounts.ts';
import type { Act } from './acts.ts';
import { form, readForm } from './form.ts';
import { html, type Html } from './html.ts';
import { field, sendPage } from './page.ts';
import type { SignIn } from './sign-in.ts';
import { WORDS } from './words.ts';

const words = WORDS.staff;
const INVITED_MILLIS = 3 * 24 * 3_600_000;

const inviteSchema = z.object({
  id: z.string().max(80).transform(signInName).pipe(staffIdSchema),
  name: z.string().trim().min(1).max(120),
  role: z.enum(ROLES),
  email: z.union([z.literal(''), z.email().max(200)]),
});
const changeSchema = z.object({
  id: z.string().max(80),
  role: z.enum(ROLES),
  disabled: z.enum(['yes', 'no']),
});
const linkSchema = z.object({ id: z.string().max(80) });

export function staffRoutes(signIn: SignIn, { whoOf }: Gates, staff: readonly StaffMember[]): Router {
  const router = Router();
  const show = (response: Response, said: Said): Promise<void> =>
    showStaff(signIn, staff, { response, said });
  const note = (request: Request, response: Response, act: Act, about: string): Promise<void> =>
    signIn.writeDown(request, { act, who: whoOf(response), about: [about] });
  const invited = async (request: Request, response: Response, id: string): Promise<void> => {
    const secret = await signIn.links.mint({ kind: 'invite', staff: id, call: null }, INVITED_MILLIS);
    await note(request, response, 'invited', id);
    await show(response, { link: `${signIn.url}/join?link=${secret}` });
  };

  router.get('/staff', (_request, response) => show(response, {}));
  router.post('/staff/invite', readForm, async (request, response) => {
    const read = inviteSchema.safeParse(request.body);
    if (!read.success || (await accountNamed(signIn.auth, read.data.id)) !== null) {
      return show(response, { wrong: WORDS.join.taken });
    }
    const { email, ...who } = read.data;
    await addAccount(signIn.auth, { who, passwordHash: null, workEmail: email === '' ? null : email });
    return invited(request, response, who.id);
  });
  router.post('/staff/link', readForm, async (request, response) => {
    const read = linkSchema.safeParse(request.body);
    const account = read.success ? await accountNamed(signIn.auth, read.data.id) : null;
    if (account === null) return show(response, { wrong: WORDS.unreadable });
    return invited(request, response, account.id);
  });
  router.post('/staff/change', readForm, async (request, response) => {
    const read = changeSchema.safeParse(request.body);
    const account = read.success ? await accountNamed(signIn.auth, read.data.id) : null;
    if (!read.success || account === null) return show(response, { wrong: WORDS.unreadable });
    // One administrator always remains: the one who is signed in.
    if (account.id === whoOf(response).id) return show(response, { wrong: words.own });
    const disabled = read.data.disabled === 'yes';
    await changeAccount(signIn.auth, account.user, { role: read.data.role, disabled });
    signIn.sessions.forget(account.user);
    const act = disabled === account.disabled ? 'role changed' : disabled ? 'disabled' : 'enabled';
    await note(request, response, act, account.id);
    return show(response, {});
  });
  return router;
}

interface Said {
  readonly wrong?: string;
  readonly link?: string;
}

async function showStaff(
  { auth, frame }: SignIn,
  staff: readonly StaffMember[],
  { response, said }: { readonly response: Response; readonly said: Said },
): Promise<void> {
  const accounts = await listAccounts(auth);
  const known = new Set(accounts.map(({ id }) => id));
  sendPage(response, frame, {
    title: words.title,
    status: said.wrong === undefined ? 200 : 400,
    notice: said.wrong === undefined ? null : { kind: 'wrong', text: said.wrong },
    body: html`${said.link === undefined ? null : html`<p class="done" role="status">${words.link} <code>${said.link}</code></p>`}
      <p><a href="/profile">${WORDS.profile.title}</a></p>
      <ul>
        ${accounts.map(accountPart)}
      </ul>
      <h2>${words.invite}</h2>
      ${form('/staff/invite', inviteFields(staff.filter(({ id }) => !known.has(id))), words.send)}`,
  });
}

function accountPart({ id, name, role, disabled, hasSecondFactor }: Account): Html {
  const hidden = html`<input type="hidden" name="id" value="${id}" />`;
  const other = html`<input type="hidden" name="disabled" value="${disabled ? 'no' : 'yes'}" />
    <input type="hidden" name="role" value="${role}" />`;
  const same = html`<input type="hidden" name="disabled" value="${disabled ? 'yes' : 'no'}" />`;
  return html`<li>
    <h2>${name} (${id})${disabled ? html`, ${words.disabled}` : null}</h2>
    <p>${words.factor}: ${hasSecondFactor ? words.yes : words.no}</p>
    ${form('/staff/change', html`${hidden}${same}${roleField(role, id)}`, words.change)}
    ${form('/staff/change', html`${hidden}${other}`, disabled ? words.enable : words.disable)}
    ${form('/staff/link', hidden, words.again)}
  </li>`;
}

function inviteFields(missing: readonly StaffMember[]): Html {
  return html`<datalist id="missing">
      ${missing.map(({ id, name }) => html`<option value="${id}">${name}</option>`)}
    </datalist>
    ${field(words.id, { name: 'id', list: 'missing', autocomplete: 'off', spellcheck: 'false' })}
    ${field(words.name, { name: 'name', autocomplete: 'off' })} ${roleField('nurse', 'new')}
    <p>
      <label for="email">${words.email}</label
      ><input id="email" name="email" type="email" autocomplete="off" />
    </p>`;
}

function roleField(chosen: string, of: string): Html {
  return html`<p>
    <label for="role-${of}">${words.role}</label>
    <select id="role-${of}" name="role">
      ${ROLES.map((role) => html`<option value="${role}" ${role === chosen ? html` selected` : null}>${role}</option>`)}
    </select>
  </p>`;
}

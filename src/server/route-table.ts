/** Every address that the server answers, and who may ask: what is not in this table is not reached. */
import { AT_THE_DESK, CALL_TAKERS, LEADS, ROUTES } from '../desk/routes.ts';
import { ROLES, type Role } from '../people/staff.ts';

export type Access =
  /** Anybody, for the reason given. */
  | { readonly open: string }
  | {
      readonly roles: readonly Role[];
      /** Also before a second factor is set up, so that it can be. */
      readonly beforeSecondFactor?: true;
    }
  /** The telephone provider: its handler checks the signature of each request and gives 403 without one. */
  | { readonly signedBy: 'provider' };

export interface RouteRow {
  readonly method: 'get' | 'post';
  /** As Express reads it. */
  readonly path: string;
  readonly access: Access;
}

const PAGE_ROUTES: readonly RouteRow[] = [
  { method: 'get', path: '/', access: { roles: ROLES } },
  { method: 'get', path: '/calls/:id', access: { roles: AT_THE_DESK } },
  { method: 'get', path: '/calls/:id/record', access: { roles: CALL_TAKERS } },
  { method: 'get', path: '/api/live', access: { roles: AT_THE_DESK } },
  { method: 'get', path: '/log', access: { roles: LEADS } },
  { method: 'get', path: '/log/:id', access: { roles: LEADS } },
  { method: 'get', path: '/assets/:name', access: { open: 'the page’s scripts, which hold no data' } },
  { method: 'get', path: '/page.css', access: { open: 'the page’s style, which holds no data' } },
  { method: 'get', path: '/favicon.ico', access: { open: 'asked for by every browser' } },
];

/** What everybody does for themselves. */
const OWN_PATHS = [
  ['get', '/profile'],
  ['post', '/profile/password'],
  ['post', '/profile/totp'],
  ['post', '/profile/totp/confirm'],
  ['post', '/profile/totp/remove'],
  ['get', '/profile/passkey-options'],
  ['post', '/profile/passkey'],
  ['post', '/profile/passkey/remove'],
  ['post', '/profile/pin'],
  ['post', '/sign-out'],
  ['post', '/sign-out/everywhere'],
] as const;

const SIGN_IN_ROUTES: readonly RouteRow[] = [
  { method: 'get', path: '/sign-in', access: { open: 'nobody is signed in yet' } },
  { method: 'post', path: '/sign-in', access: { open: 'nobody is signed in yet' } },
  { method: 'get', path: '/sign-in/code', access: { open: 'the second step of signing in' } },
  { method: 'post', path: '/sign-in/code', access: { open: 'the second step of signing in' } },
  { method: 'get', path: '/sign-in/passkey-options', access: { open: 'signing in with a passkey begins' } },
  { method: 'post', path: '/sign-in/passkey', access: { open: 'signing in with a passkey ends' } },
  { method: 'get', path: '/sign-in/provider', access: { open: 'signing in elsewhere begins' } },
  { method: 'get', path: '/auth/callback/practice', access: { open: 'signing in elsewhere ends' } },
  { method: 'get', path: '/join', access: { open: 'whoever holds the link has no account yet' } },
  { method: 'post', path: '/join', access: { open: 'whoever holds the link has no account yet' } },
  {
    method: 'post',
    path: '/api/calls/:id/clinician-link',
    access: { roles: CALL_TAKERS },
  },
  { method: 'get', path: '/clinician/:secret', access: { open: 'the link and the PIN are asked for there' } },
  {
    method: 'post',
    path: '/clinician/:secret',
    access: { open: 'the link and the PIN are asked for there' },
  },
  ...['accept', 'lower'].map((act) => ({
    method: 'post' as const,
    path: `/clinician/:secret/${act}`,
    access: { open: 'the link and its browser are asked for there' },
  })),
  { method: 'get', path: '/passkey.js', access: { open: 'the script of passkeys, which holds no data' } },
  { method: 'get', path: '/sign-in.css', access: { open: 'the style of the sign-in page' } },
  ...OWN_PATHS.map(([method, path]) => ({
    method,
    path,
    access: { roles: ROLES, beforeSecondFactor: true as const },
  })),
  { method: 'get', path: '/staff', access: { roles: ['administrator'] } },
  { method: 'post', path: '/staff/invite', access: { roles: ['administrator'] } },
  { method: 'post', path: '/staff/link', access: { roles: ['administrator'] } },
  { method: 'post', path: '/staff/change', access: { roles: ['administrator'] } },
];

const PROVIDER_ROUTES: readonly RouteRow[] = [
  { method: 'post', path: '/line/{*rest}', access: { signedBy: 'provider' } },
  { method: 'post', path: '/text/{*rest}', access: { signedBy: 'provider' } },
];

/** The trial phone; in the demonstration everybody may try it. */
const TRIAL_ROUTES: readonly RouteRow[] = [
  { method: 'get', path: '/trial-phone', access: { roles: ['administrator'] } },
  { method: 'get', path: '/trial-phone/say', access: { roles: ['administrator'] } },
  { method: 'post', path: '/trial-phone/send', access: { roles: ['administrator'] } },
  { method: 'get', path: '/trial-phone.js', access: { open: 'a script, which holds no data' } },
  { method: 'get', path: '/trial-phone.css', access: { open: 'a style, which holds no data' } },
];

export const ROUTE_TABLE: readonly RouteRow[] = [
  ...ROUTES.map(({ method, path, roles }) => ({ method, path, access: { roles } })),
  ...PAGE_ROUTES,
  ...SIGN_IN_ROUTES,
  ...PROVIDER_ROUTES,
  ...TRIAL_ROUTES,
];

/** Who may ask in this mode: the people of a demonstration are invented, and so is whoever tries its line. */
export function tableFor(mode: 'demo' | 'live'): readonly RouteRow[] {
  if (mode === 'live') return ROUTE_TABLE;
  return ROUTE_TABLE.map((row) =>
    TRIAL_ROUTES.includes(row) ? { ...row, access: { open: 'a trial call of invented people' } } : row,
  );
}

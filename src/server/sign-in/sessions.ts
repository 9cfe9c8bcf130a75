/**
 * Who is signed in. A session is looked up at most every few seconds, and when the sign-in's database does not answer,
 * whoever was signed in a moment ago stays so until the session would have ended: a call in progress goes on.
 */
import { isAPIError } from 'better-auth/api';
import { z } from 'zod';
import type { Clock, Millis } from '../../basics/clock.ts';
import { ROLES, staffIdSchema, type SignedIn } from '../../people/staff.ts';
import type { Auth } from './auth.ts';

export interface Session {
  readonly who: SignedIn;
  readonly user: string;
  readonly token: string;
  /** A second factor stood behind it. */
  readonly strong: boolean;
  readonly hasSecondFactor: boolean;
}

export interface Found {
  readonly session: Session | null;
  /** Cookies that prolong the session; to be handed on. */
  readonly cookies: readonly string[];
}

export interface Sessions {
  /** Nobody behind a cookie that is missing, forged or over; `down` when that cannot be known now. */
  readonly find: (cookie: string | undefined) => Promise<Found | 'down'>;
  /** After a sign-out, a new password or role: the next request of these people is looked up again. */
  readonly forget: (user: string) => void;
}

export interface SessionParts {
  readonly auth: Auth;
  /** Real time, as the library counts it. */
  readonly clock: Clock;
  readonly hoursAtMost: number;
}

const KEPT_MILLIS = 5_000;
const KEPT_AT_MOST = 1_000;
const HOUR = 3_600_000;
const NOBODY: Found = { session: null, cookies: [] };

const foundSchema = z.object({
  session: z.object({
    token: z.string(),
    createdAt: z.date(),
    expiresAt: z.date(),
    strong: z.boolean().nullish(),
  }),
  user: z.object({
    id: z.string(),
    name: z.string(),
    staffId: staffIdSchema,
    role: z.enum(ROLES),
    disabled: z.boolean().nullish(),
    twoFactorEnabled: z.boolean().nullish(),
  }),
});

interface Kept {
  readonly session: Session;
  readonly readAt: Millis;
  readonly endsAt: Millis;
}

export function sessionsOf({ auth, clock, hoursAtMost }: SessionParts): Sessions {
  const kept = new Map<string, Kept>();
  const name = sessionCookieName(auth);

  async function find(header: string | undefined): Promise<Found | 'down'> {
    const cookie = cookieIn(header, name);
    if (cookie === null) return NOBODY;
    const known = kept.get(cookie);
    const now = clock.now();
    if (known !== undefined && now < Math.min(known.readAt + KEPT_MILLIS, known.endsAt)) {
      return { session: known.session, cookies: [] };
    }
    try {
      return await look(cookie);
    } catch (error) {
      if (isAPIError(error) && error.statusCode === 401) return NOBODY;
      if (known === undefined || now >= known.endsAt) return 'down';
      return { session: known.session, cookies: [] };
    }
  }

  async function look(cookie: string): Promise<Found> {
    const headers = new Headers({ cookie: `${name}=${cookie}` });
    const answer = await auth.api.getSession({ headers, returnHeaders: true });
    const found = foundSchema.nullable().parse(answer.response);
    kept.delete(cookie);
    if (found === null || found.user.disabled === true) return NOBODY;
    const now = clock.now();
    const lastsUntil = found.session.createdAt.getTime() + hoursAtMost * HOUR;
    if (now >= lastsUntil) {
      await endSession(auth, found.session.token);
      return NOBODY;
    }
    const session = sessionOf(found);
    if (kept.size >= KEPT_AT_MOST) kept.clear();
    kept.set(cookie, {
      session,
      readAt: now,
      endsAt: Math.min(lastsUntil, found.session.expiresAt.getTime()),
    });
    return { session, cookies: answer.headers.getSetCookie() };
  }

  return {
    find,
    forget: (user) => {
      for (const [cookie, { session }] of kept) if (session.user === user) kept.delete(cookie);
    },
  };
}

function sessionOf({ session, user }: z.infer<typeof foundSchema>): Session {
  return {
    who: { id: user.staffId, name: user.name, role: user.role },
    user: user.id,
    token: session.token,
    strong: session.strong === true,
    hasSecondFactor: user.twoFactorEnabled === true,
  };
}

async function endSession(auth: Auth, token: string): Promise<void> {
  const { internalAdapter } = await auth.$context;
  await internalAdapter.deleteSession(token);
}

function sessionCookieName(auth: Auth): string {
  const secure = auth.options.advanced.useSecureCookies ? '__Secure-' : '';
  return `${secure}${auth.options.advanced.cookiePrefix}.session_token`;
}

/** The value as it was sent; null when there is none. */
function cookieIn(header: string | undefined, name: string): string | null {
  const pair = (header ?? '').split(/; */).find((one) => one.startsWith(`${name}=`));
  return pair === undefined ? null : pair.slice(name.length + 1);
}

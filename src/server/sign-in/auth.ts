/** The auth library as this desk uses it: no sign-up, its own password hash, sessions that end, and no word to the outside. */
import { passkey } from '@better-auth/passkey';
import { betterAuth } from 'better-auth';
import { getMigrations } from 'better-auth/db/migration';
import { genericOAuth, twoFactor, type GenericOAuthConfig } from 'better-auth/plugins';
import type { Logger } from 'pino';
import { newId } from '../../basics/ids.ts';
import type { OidcAccess } from '../config.ts';
import { makeOwnTables, type SignInDatabase } from './database.ts';
import { hashPassword, isPassword } from './password-hash.ts';

export interface AuthParts {
  readonly database: SignInDatabase;
  readonly secret: string;
  /** The site as browsers call it. */
  readonly url: string;
  readonly practice: string;
  readonly idleMinutes: number;
  readonly oidc: OidcAccess | null;
  readonly log: Logger;
}

/** ASVS 4.0.3, 2.1.1 and 2.1.2. */
export const PASSWORD_LENGTH = { least: 12, most: 128 } as const;

/** After these a second factor stood behind the session. */
const STRONG_PATHS = [
  '/two-factor/verify-totp',
  '/two-factor/verify-backup-code',
  '/passkey/verify-authentication',
  // The practice's own accounts have a rule of their own on second factors.
  '/callback/:id',
];

export type Auth = Awaited<ReturnType<typeof openAuth>>;

export async function openAuth(parts: AuthParts) {
  const auth = makeAuth(parts);
  const { runMigrations } = await getMigrations(auth.options);
  await runMigrations();
  await makeOwnTables(parts.database);
  return auth;
}

/** How the practice's own accounts are named in addresses. */
export const OIDC_ID = 'practice';

function makeAuth({ database, secret, url, practice, idleMinutes, oidc, log }: AuthParts) {
  const { hostname, origin } = new URL(url);
  // A passkey belongs to a name; the bare address of this machine has one, too.
  const isThisMachine = hostname === '127.0.0.1';
  const named = isThisMachine ? origin.replace('127.0.0.1', 'localhost') : origin;
  return betterAuth({
    appName: practice,
    baseURL: origin,
    basePath: '/auth',
    secret,
    database: { db: database.db, type: database.type },
    telemetry: { enabled: false },
    // The library's own sentences may name people.
    logger: { level: 'error', log: (level) => log.warn({ level }, 'sign-in') },
    rateLimit: { enabled: false },
    emailAndPassword: {
      enabled: true,
      disableSignUp: true,
      minPasswordLength: PASSWORD_LENGTH.least,
      maxPasswordLength: PASSWORD_LENGTH.most,
      password: {
        hash: (password) => hashPassword(password),
        verify: ({ password, hash }) => isPassword(password, hash),
      },
    },
    session: {
      expiresIn: idleMinutes * 60,
      updateAge: 60,
      additionalFields: { strong: { type: 'boolean', required: false, input: false } },
    },
    user: {
      additionalFields: {
        staffId: { type: 'string', required: true, unique: true, input: false },
        role: { type: 'string', required: true, input: false },
        disabled: { type: 'boolean', required: false, input: false },
        workEmail: { type: 'string', required: false, input: false },
      },
    },
    databaseHooks: {
      session: {
        create: {
          before: async (session, context) => {
            const strong = STRONG_PATHS.includes(context?.path ?? '');
            return { data: { ...session, strong } };
          },
        },
      },
    },
    advanced: {
      cookiePrefix: 'call-desk',
      useSecureCookies: origin.startsWith('https:'),
      database: { generateId: () => newId() },
      defaultCookieAttributes: { sameSite: 'lax', httpOnly: true, path: '/' },
    },
    account: { accountLinking: { enabled: true, trustedProviders: [OIDC_ID] } },
    plugins: [
      genericOAuth({ config: oidc === null ? [] : [providerOf(oidc, database)] }),
      twoFactor({ issuer: practice }),
      passkey({ rpID: new URL(named).hostname, rpName: practice, origin: [named, origin] }),
    ],
  });
}

/** Only somebody whom the administrator invited under that address, which the provider has verified. */
function providerOf(oidc: OidcAccess, { db }: SignInDatabase): GenericOAuthConfig {
  return {
    ...oidc,
    providerId: OIDC_ID,
    scopes: ['openid', 'email', 'profile'],
    pkce: true,
    disableSignUp: true,
    requireIdTokenVerification: true,
    mapProfileToUser: async ({ email, email_verified: isVerified }) => {
      const asked = isVerified === true && typeof email === 'string' ? email.toLowerCase() : null;
      const known =
        asked === null
          ? undefined
          : await db.selectFrom('user').select('email').where('workEmail', '=', asked).executeTakeFirst();
      return { email: known?.email ?? NOBODY, emailVerified: known !== undefined };
    },
  };
}

const NOBODY = 'nobody@staff.invalid';

/** Opens everything around signing in: its database, the auth library, sessions, limits, and the first sign-ins. */
import { hkdfSync } from 'node:crypto';
import type { Logger } from 'pino';
import type { Clock } from '../../basics/clock.ts';
import type { Config } from '../config.ts';
import type { WriteDown } from './acts.ts';
import { openAuth, type Auth } from './auth.ts';
import { openSignInDatabase, type SignInDatabase } from './database.ts';
import { limitsOn, type Limits } from './limits.ts';
import { linksOn, type Links } from './links.ts';
import type { Frame } from './page.ts';
import { sessionsOf, type Sessions } from './sessions.ts';
import { usedCodesOn, type ClaimCode } from './used-codes.ts';

export interface SignIn {
  readonly auth: Auth;
  readonly database: SignInDatabase;
  readonly sessions: Sessions;
  readonly limits: Limits;
  readonly links: Links;
  readonly claimCode: ClaimCode;
  readonly writeDown: WriteDown;
  /** Real time: the auth library counts by it. */
  readonly clock: Clock;
  readonly frame: Frame;
  readonly isDemo: boolean;
  readonly isSecure: boolean;
  /** The site as browsers call it. */
  readonly url: string;
  readonly needsSecondFactor: boolean;
  /** The practice's own accounts open the desk, too. */
  readonly hasProvider: boolean;
  readonly close: () => Promise<void>;
}

export interface SignInParts {
  readonly config: Config;
  /** The site as browsers call it. */
  readonly url: string;
  readonly practiceKey: Buffer;
  readonly frame: Frame;
  readonly isDemo: boolean;
  readonly idleMinutes: number;
  readonly hoursAtMost: number;
  readonly secondFactor: 'off' | 'required';
  readonly clock: Clock;
  readonly writeDown: WriteDown;
  readonly log: Logger;
}

/** Rejects when the database of the sign-in cannot be opened. */
export async function openSignIn(parts: SignInParts): Promise<SignIn> {
  const { config, url, frame, clock, isDemo } = parts;
  const secret = secretOf(parts.practiceKey);
  const database = await openSignInDatabase(config);
  try {
    const auth = await openAuth({ ...parts, database, secret, practice: frame.practice, oidc: config.oidc });
    return {
      auth,
      database,
      sessions: sessionsOf({ auth, clock, hoursAtMost: parts.hoursAtMost }),
      limits: limitsOn(database, secret, clock),
      links: linksOn(database, clock),
      claimCode: usedCodesOn(database, clock),
      writeDown: parts.writeDown,
      clock,
      frame,
      isDemo,
      isSecure: url.startsWith('https:'),
      url,
      hasProvider: config.oidc !== null,
      needsSecondFactor: parts.secondFactor === 'required',
      close: database.close,
    };
  } catch (error) {
    await database.close();
    throw error;
  }
}

// HKDF (RFC 5869): what is signed here never shares a key with what is sealed in the record.
function secretOf(practiceKey: Buffer): string {
  return Buffer.from(hkdfSync('sha256', practiceKey, Buffer.alloc(0), 'sign-in, 1', 32)).toString(
    'base64url',
  );
}

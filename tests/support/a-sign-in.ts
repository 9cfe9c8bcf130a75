/** The sign-in of the demo without the rest of the server, for what puts its own server together. */
import { pino } from 'pino';
import { systemClock } from '../../src/basics/system-clock.ts';
import type { Role } from '../../src/people/staff.ts';
import { USUAL_CONFIG } from '../../src/server/config.ts';
import type { Content } from '../../src/server/content.ts';
import type { AppDeps } from '../../src/server/app.ts';
import { addressOf } from '../../src/server/sign-in/accounts.ts';
import { seedDemoSignIns } from '../../src/server/sign-in/demo-sign-ins.ts';
import { openSignIn } from '../../src/server/sign-in/sign-in.ts';
import { cookiesOf, demoNameOf } from './sign-in-as.ts';

export interface SignInForTests {
  /** What the application needs of it. */
  readonly doors: Pick<AppDeps, 'signIn' | 'site' | 'needsSecondFactor'>;
  /** The `Cookie` header of somebody who has signed in. */
  readonly cookie: (role: Role) => Promise<string>;
}

export async function aSignIn({ practice, place }: Content, dataDir: string): Promise<SignInForTests> {
  const url = 'http://127.0.0.1';
  const signIn = await openSignIn({
    config: { ...USUAL_CONFIG, dataDir },
    url,
    practiceKey: Buffer.alloc(32, 7),
    frame: { practice: practice.name, emergency: place.emergency.number },
    isDemo: true,
    ...practice.signIn,
    clock: systemClock,
    writeDown: () => Promise.resolve(),
    log: pino({ level: 'silent' }),
  });
  const { password } = await seedDemoSignIns(signIn, practice.staff, dataDir);
  return {
    doors: { signIn, site: { url, trustedProxies: null }, needsSecondFactor: false },
    cookie: async (role) => {
      const body = { email: addressOf(demoNameOf(role)), password };
      const answer = await signIn.auth.api.signInEmail({ body, headers: new Headers(), asResponse: true });
      return cookiesOf(answer.headers.getSetCookie());
    },
  };
}

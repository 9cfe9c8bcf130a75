/** Opens the sign-in that the settings name, with the demonstration's people or the way to the first administrator. */
import type { Logger } from 'pino';
import { fault, type Fault } from '../basics/fault.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { systemClock } from '../basics/system-clock.ts';
import { readOrMakeKeyFile } from '../store/key-file.ts';
import type { Config } from './config.ts';
import type { Content } from './content.ts';
import type { Site } from './guards.ts';
import { keyFileIn } from './open-store.ts';
import type { WriteDown } from './sign-in/acts.ts';
import { seedDemoSignIns, type DemoSignIns } from './sign-in/demo-sign-ins.ts';
import { firstSetUp } from './sign-in/join-routes.ts';
import { openSignIn, type SignIn } from './sign-in/sign-in.ts';

export interface SignInOpened {
  readonly opened: SignIn;
  readonly demo: DemoSignIns | null;
  readonly setUp: string | null;
}

interface Opening {
  readonly config: Config;
  readonly site: Site;
  readonly log: Logger;
  readonly writeDown: WriteDown;
}

export async function openConfiguredSignIn(
  { practice, place }: Pick<Content, 'practice' | 'place'>,
  { config, site, log, writeDown }: Opening,
): Promise<Result<SignInOpened, Fault>> {
  const isDemo = practice.mode === 'demo' && config.databaseUrl === null;
  const keys = readOrMakeKeyFile(keyFileIn(config.dataDir));
  if (!keys.ok) return failed(fault('store-down', 'The practice key cannot be read for signing in.'));
  try {
    const opened = await openSignIn({
      config,
      url: site.url,
      practiceKey: keys.value.practiceKey,
      frame: { practice: practice.name, emergency: place.emergency.number },
      isDemo,
      ...practice.signIn,
      // The auth library counts real time, whatever the desk's clock says.
      clock: systemClock,
      writeDown,
      log,
    });
    const demo = isDemo ? await seedDemoSignIns(opened, practice.staff, config.dataDir) : null;
    const setUp = isDemo ? null : await firstSetUp(opened);
    return ok({ opened, demo, setUp: setUp === null ? null : `${site.url}${setUp}` });
  } catch {
    return failed(
      fault(
        'store-down',
        'The database of the sign-in cannot be opened; one that can be written to is accepted.',
      ),
    );
  }
}

/** A session ends when nothing was asked for long, and after a shift in any case. */
import { expect, onTestFinished, test } from 'vitest';
import { loadContent } from '../../../src/server/content.ts';
import { sessionsOf } from '../../../src/server/sign-in/sessions.ts';
import { smallContent } from '../../support/a-desk.ts';
import { aSignIn } from '../../support/a-sign-in.ts';
import { systemClock } from '../../../src/basics/system-clock.ts';
import { tempDir } from '../../support/temp-dir.ts';

const HOUR = 3_600_000;

async function signedIn() {
  const folder = tempDir();
  const content = loadContent(smallContent(folder));
  if (!content.ok) throw new Error('The content does not load');
  const { doors, cookie } = await aSignIn(content.value, folder);
  onTestFinished(doors.signIn.close);
  return { signIn: doors.signIn, cookie: await cookie('nurse') };
}

/** Sessions as somebody sees them who looks so much later; the library itself counts real time. */
function later(auth: Parameters<typeof sessionsOf>[0]['auth'], millis: number) {
  const clock = { now: () => systemClock.now() + millis };
  return sessionsOf({ auth, clock, hoursAtMost: 12 });
}

test('twelve hours after the sign-in it is over, whatever was asked meanwhile', async () => {
  const { signIn, cookie } = await signedIn();
  expect(await later(signIn.auth, 11.9 * HOUR).find(cookie)).toMatchObject({
    session: { who: { id: 'bronagh-tully' } },
  });
  expect(await later(signIn.auth, 12 * HOUR).find(cookie)).toMatchObject({ session: null });
  // And stays over: it was deleted.
  expect(await signIn.sessions.find(cookie)).toMatchObject({ session: null });
});

test('after thirty minutes without a request it is over', async () => {
  const { signIn, cookie } = await signedIn();
  const { internalAdapter } = await signIn.auth.$context;
  const found = await signIn.sessions.find(cookie);
  if (found === 'down' || found.session === null) throw new Error('Nobody is signed in');
  const kept = await internalAdapter.findSession(found.session.token);
  // ASVS 4.0.3, 3.3.2.
  const lasts = (kept?.session.expiresAt.getTime() ?? 0) - systemClock.now();
  expect(lasts).toBeGreaterThan(29 * 60_000);
  expect(lasts).toBeLessThanOrEqual(30 * 60_000);
  await internalAdapter.updateSession(found.session.token, { expiresAt: new Date(0) });
  signIn.sessions.forget(found.session.user);
  expect(await signIn.sessions.find(cookie)).toMatchObject({ session: null });
});

test('somebody whose account was disabled a moment ago is nobody', async () => {
  const { signIn, cookie } = await signedIn();
  const found = await signIn.sessions.find(cookie);
  if (found === 'down' || found.session === null) throw new Error('Nobody is signed in');
  const { internalAdapter } = await signIn.auth.$context;
  await internalAdapter.updateUser(found.session.user, { disabled: true });
  signIn.sessions.forget(found.session.user);
  expect(await signIn.sessions.find(cookie)).toMatchObject({ session: null });
});

/** Signs somebody in over HTTP, as the page's form does. */
import request from 'supertest';
import type { Role } from '../../src/people/staff.ts';

/** One of flows/practice.yaml for each role. */
const PEOPLE: Readonly<Record<Role, string>> = {
  nurse: 'bronagh-tully',
  'lead-nurse': 'precious-adeyinka',
  'front-desk': 'callum-rhodes-pike',
  'flow-author': 'sunniva-hale',
  administrator: 'hamish-orde',
  'on-call-clinician': 'kwabena-lund',
};

export function demoNameOf(role: Role): string {
  return PEOPLE[role];
}

/** The `Cookie` header that every later request of this browser sends. */
export async function signInAs(
  address: string,
  form: { readonly name: string; readonly password: string },
): Promise<string> {
  const response = await request(address).post('/sign-in').set('Origin', address).type('form').send(form);
  if (response.status !== 303) throw new Error(`Signing in was answered with ${String(response.status)}`);
  return cookiesOf(response.headers['set-cookie']);
}

/** The pairs of `Set-Cookie` headers, without what they say about keeping. */
export function cookiesOf(header: unknown): string {
  const cookies: readonly unknown[] = Array.isArray(header) ? header : [header];
  return cookies.map((cookie) => String(cookie).split(';')[0] ?? '').join('; ');
}

/** The same for a real browser. */
export async function browserCookies(desk: {
  readonly address: string;
  readonly cookie: () => Promise<string>;
}): Promise<{ name: string; value: string; url: string }[]> {
  return (await desk.cookie()).split('; ').map((pair) => {
    const at = pair.indexOf('=');
    return { name: pair.slice(0, at), value: pair.slice(at + 1), url: desk.address };
  });
}

/** Somebody at a browser of their own, without a screen: keeps cookies and sends forms as the desk's pages do. */
import request, { type Response } from 'supertest';
import { demoNameOf } from './sign-in-as.ts';
import type { Role } from '../../src/people/staff.ts';
import type { Desk } from './a-desk.ts';

export interface Browser {
  readonly get: (path: string) => Promise<Response>;
  readonly send: (path: string, form?: object) => Promise<Response>;
  readonly signIn: (role: Role, password?: string) => Promise<Response>;
}

export function aBrowser(desk: Pick<Desk, 'address' | 'password'>): Browser {
  const agent = request.agent(desk.address);
  const send = async (path: string, form: object = {}): Promise<Response> =>
    agent.post(path).set('Origin', desk.address).type('form').redirects(0).send(form);
  return {
    get: async (path) => agent.get(path).redirects(0),
    send,
    signIn: (role, password = desk.password) => send('/sign-in', { name: demoNameOf(role), password }),
  };
}

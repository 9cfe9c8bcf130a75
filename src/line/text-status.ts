/** The provider's word about a text that was sent: repeated and late ones change nothing. */
import { cameOf } from './came-of.ts';
import type { Query } from './page-leg.ts';
import { messageOf, type ReachDeps } from './reach-deps.ts';
import { textOf, type Params } from './read-reply.ts';

const CAME: Readonly<Record<string, 'delivered' | 'failed'>> = {
  delivered: 'delivered',
  read: 'delivered',
  undelivered: 'failed',
  failed: 'failed',
};

export async function textStatus(deps: ReachDeps, query: Query, params: Params): Promise<boolean> {
  const message = await messageOf(deps, query);
  const came = CAME[textOf(params['MessageStatus'])];
  if (message === null || came === undefined) return true;
  return (await cameOf(deps, { message, came, params })).ok;
}

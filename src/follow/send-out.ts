/** Sends one message: to the next rung, to the caller, or nowhere but to the desk's list. */
import { MINUTE } from '../basics/civil-time.ts';
import type { Clock, Millis } from '../basics/clock.ts';
import type { Came, RungName } from '../call/attempt.ts';
import type { Loaded } from '../call/load-call.ts';
import type { StoredMessage } from '../call/outbox.ts';
import { readTelephone } from '../people/telephone.ts';
import type { StaffMember } from '../people/staff.ts';
import type { FollowSettings } from './after-turn.ts';
import { nextRung, rungOfTry } from './ladder.ts';
import type { Outbox, TextNumbers } from './outbox.ts';
import type { Provider, Sent } from './provider.ts';

export interface SendDeps {
  readonly outbox: Outbox;
  readonly numbers: TextNumbers;
  /** Null: nothing leaves the practice, everything is shown at the desk. */
  readonly provider: Provider | null;
  readonly settings: Pick<FollowSettings, 'plan' | 'minutes'>;
  /** ISO 3166 alpha-2: where a number without country code is dialled. */
  readonly country: string;
  /** The words of a text; null when there are none of that name. */
  readonly textWords: (message: StoredMessage) => string | null;
  readonly turn: { readonly clock: Clock };
}

export interface Sending {
  readonly kind: 'tried';
  readonly rung: RungName | null;
  readonly staff: string | null;
  readonly came: Came;
  readonly providerId: string | null;
}

export type SentOut =
  | Sending
  /** It is not done, and is due again then. */
  | { readonly kind: 'later'; readonly at: Millis }
  | { readonly kind: 'down' };

const SHOWN: Sending = { kind: 'tried', rung: null, staff: null, came: 'shown', providerId: null };
const FAILED: Sending = { ...SHOWN, came: 'failed' };

export async function sendOut(deps: SendDeps, message: StoredMessage, call: Loaded): Promise<SentOut> {
  switch (message.kind) {
    case 'notice':
      return SHOWN;
    case 'page':
      return page(deps, message, call);
    case 'ring':
      return ring(deps, message, call);
    case 'text':
      return text(deps, message, call);
  }
}

/** A call on the trial phone never dials or texts a real number. */
function providerFor(deps: SendDeps, { head }: Loaded): Provider | null {
  return head === null || head.channel === 'trial' ? null : deps.provider;
}

async function page(deps: SendDeps, message: StoredMessage, call: Loaded): Promise<SentOut> {
  const whom = message.template === 'late' ? lateRung(deps, message) : ladderRung(deps, call);
  if (whom === null) return FAILED;
  const { rung, staff } = whom;
  const provider = providerFor(deps, call);
  if (provider === null) return { ...SHOWN, rung, staff: staff.id };
  const key = `${message.id}:${staff.id}:${String(message.template === 'late' ? message.tries : 0)}`;
  const sent = await provider.ring({ message: message.id, to: staff.telephone, key, what: 'page' });
  if (sent.came === 'failed' && message.template === 'late' && message.tries < TRIES_AT_MOST) {
    return { kind: 'later', at: deps.turn.clock.now() };
  }
  return { ...ended(sent), rung, staff: staff.id };
}

interface Whom {
  readonly rung: RungName;
  readonly staff: StaffMember;
}

/** Whoever is next now, not when it was queued: the rota may have changed, and others may have been tried. */
function ladderRung({ settings, turn }: SendDeps, { snapshot }: Loaded): Whom | null {
  const { promises, paging } = snapshot.context;
  const { escalation } = promises;
  if (escalation === undefined) return null;
  const next = nextRung({
    ...settings,
    emergency: escalation.to.emergency,
    openedAt: escalation.openedAt,
    // The escalation is open, so an acceptance that was begun did not come to its end.
    attempts: (paging?.attempts ?? []).filter(({ came }) => came !== 'accepted'),
    now: turn.clock.now(),
  });
  return next.kind === 'ring' ? next : null;
}

function lateRung({ settings, turn }: SendDeps, { tries }: StoredMessage): Whom | null {
  return rungOfTry(settings.plan, turn.clock.now(), tries);
}

/** The number that the caller gave for ringing back, else one at which the record allows it. */
async function ring(deps: SendDeps, message: StoredMessage, call: Loaded): Promise<SentOut> {
  const provider = providerFor(deps, call);
  if (provider === null) return SHOWN;
  const given = call.snapshot.context.facts['call-back-number'] ?? '';
  const number = readTelephone(given, deps.country) ?? call.patient?.contact.mayBeRungAt[0] ?? null;
  if (number === null) return FAILED;
  const sent = await provider.ring({ message: message.id, to: number, key: message.id, what: 'ring' });
  return again(deps, message, sent) ?? ended(sent);
}

async function text(deps: SendDeps, message: StoredMessage, call: Loaded): Promise<SentOut> {
  const words = deps.textWords(message);
  const number = numberIn(message);
  if (words === null || number === null) return FAILED;
  const stopped = await deps.numbers.isStopped(number);
  if (!stopped.ok) return { kind: 'down' };
  if (stopped.value) return FAILED;
  const provider = providerFor(deps, call);
  if (provider === null) return SHOWN;
  const sent = await provider.text({ message: message.id, to: number, key: message.id, words });
  return again(deps, message, sent) ?? ended(sent);
}

/** Null when the key of the call is gone. */
function numberIn({ sealed }: StoredMessage): string | null {
  if (typeof sealed !== 'object' || sealed === null || !('number' in sealed)) return null;
  return typeof sealed['number'] === 'string' ? sealed['number'] : null;
}

const TRIES_AT_MOST = 6;

/** When it is tried again, if it may be: after 15 seconds, then twice as long each time. */
function again({ turn }: SendDeps, { tries }: StoredMessage, sent: Sent): SentOut | null {
  if (sent.came === 'sent' || !sent.again || tries >= TRIES_AT_MOST) return null;
  return { kind: 'later', at: turn.clock.now() + (MINUTE / 4) * 2 ** (tries - 1) };
}

function ended(sent: Sent): Sending {
  return sent.came === 'sent' ? { ...SHOWN, came: 'sent', providerId: sent.providerId } : FAILED;
}

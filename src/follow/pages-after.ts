/** The pages of an escalation: one waits in the outbox from its opening until a clinician accepts. */
import { MINUTE } from '../basics/civil-time.ts';
import type { Millis } from '../basics/clock.ts';
import type { PromiseId } from '../basics/ids.ts';
import { isUrgent, rank } from '../clinical/outcome.ts';
import { isAccepted } from '../call/closing.ts';
import { withAttempt, type Attempt, type Paging } from '../call/attempt.ts';
import type { PromiseMade } from '../call/context.ts';
import type { Followed, TurnMade } from '../call/following.ts';
import type { NewMessage, OutboxWrite, Settled } from '../call/outbox.ts';
import type { FollowSettings } from './after-turn.ts';
import { isOver, nextRung, rungMillis } from './ladder.ts';
import { messageIds } from './message-ids.ts';

export function pagesAfter(settings: FollowSettings, made: TurnMade): Followed {
  const { before, after } = made;
  const was = before?.context.paging ?? null;
  const open = openEscalation(made);
  const settled = settledBy(made);
  if (open === null || was === null || was.promise !== open.id) {
    const ended = was === null || was.promise === open?.id ? [] : endedPages(was);
    const begun = open === null ? { paging: null, messages: [] } : begunPages(settings, made, open);
    return { paging: begun.paging, messages: [...settled, ...ended, ...begun.messages] };
  }
  const moved = movedPages(settings, made, { was, open });
  const isWorse =
    rank(after.assessment.outcome) > rank(before?.assessment.outcome ?? after.assessment.outcome);
  const now = made.stamp.at;
  const hurries = (isWorse || made.input.kind === 'cut-off') && moved.paging.nextAt > now;
  const paging = hurries ? { ...moved.paging, nextAt: now } : moved.paging;
  const waiting = messageIds.page(paging.promise, paging.pages);
  const hurry: readonly OutboxWrite[] = hurries ? [{ write: 'move', id: waiting, dueAt: now }] : [];
  return { paging, messages: [...settled, ...moved.messages, ...hurry, ...rungAgain(made)] };
}

/** One that a clinician is said to have accepted waits for that clinician's own word, and nobody else is rung about it. */
function openEscalation({ after }: TurnMade): PromiseMade | null {
  const promise = after.context.promises.escalation;
  const { outcome } = after.assessment;
  const waits = promise?.state === 'open' && isUrgent(outcome) && !isAccepted(after.context, outcome);
  return waits ? promise : null;
}

/** Nobody has to be rung any more. */
function endedPages({ promise, pages }: Paging): readonly OutboxWrite[] {
  return [
    { write: 'withdraw', id: messageIds.page(promise, pages) },
    { write: 'withdraw', id: messageIds.nobodyAccepted(promise) },
    { write: 'withdraw', id: messageIds.urgentByText(promise) },
  ];
}

interface Begun {
  readonly paging: Paging;
  readonly messages: readonly OutboxWrite[];
}

/**
 * At once, except where the caller waits on the line to be connected within the hour: there the page begins when a
 * rung's time has passed, or at once when the call breaks off.
 */
function begunPages(settings: FollowSettings, made: TurnMade, open: PromiseMade): Begun {
  const now = made.stamp.at;
  const { emergency } = open.to;
  const waits = isSpoken(made) && !emergency && made.input.kind !== 'cut-off';
  const nextAt = waits ? now + rungMillis({ emergency, minutes: settings.minutes }) : now;
  const paging: Paging = { promise: open.id, pages: 1, nextAt, attempts: [] };
  const rungAt = now + settings.callerRungAfterMinutes * MINUTE;
  const messages = [
    page(open.id, { n: 1, dueAt: nextAt }),
    ring(messageIds.nobodyAccepted(open.id), {
      promise: open.id,
      template: 'nobody-accepted',
      dueAt: rungAt,
    }),
    ...(made.channel === 'text'
      ? [ring(messageIds.urgentByText(open.id), { promise: open.id, template: 'urgent', dueAt: now })]
      : []),
  ];
  return { paging, messages: messages.map((message) => ({ write: 'add', message })) };
}

function isSpoken({ channel }: TurnMade): boolean {
  return channel === 'line' || channel === 'trial';
}

function page(promise: PromiseId, { n, dueAt }: { readonly n: number; readonly dueAt: Millis }): NewMessage {
  const id = messageIds.page(promise, n);
  return { id, promise, kind: 'page', to: null, template: 'escalation', sealed: null, dueAt };
}

function ring(id: NewMessage['id'], parts: Pick<NewMessage, 'promise' | 'template' | 'dueAt'>): NewMessage {
  return { id, kind: 'ring', to: 'caller', sealed: null, ...parts };
}

interface Moving {
  readonly was: Paging;
  readonly open: PromiseMade;
}

/** A try moves the ladder: the first word of the waiting page queues the next one, every other word moves that. */
function movedPages(settings: FollowSettings, made: TurnMade, { was, open }: Moving): Begun {
  const { input, stamp } = made;
  if (input.kind !== 'attempt' || (input.what !== 'page' && input.what !== 'leg')) {
    return { paging: was, messages: [] };
  }
  const promise = open.id;
  const attempts = withAttempt(was.attempts, input, stamp.at);
  const nextAt = nextPageAt(settings, made, { attempts, open });
  const taken = input.message === messageIds.page(promise, was.pages);
  const pages = taken ? was.pages + 1 : was.pages;
  const paging: Paging = { promise, pages, nextAt, attempts: [...attempts] };
  if (taken)
    return { paging, messages: [{ write: 'add', message: page(promise, { n: pages, dueAt: nextAt }) }] };
  if (nextAt === was.nextAt) return { paging, messages: [] };
  return { paging, messages: [{ write: 'move', id: messageIds.page(promise, pages), dueAt: nextAt }] };
}

interface Trying {
  readonly attempts: readonly Attempt[];
  readonly open: PromiseMade;
}

/** While the caller waits on the line it dials on by itself; the page comes when a rung's time has passed. */
function nextPageAt(settings: FollowSettings, made: TurnMade, { attempts, open }: Trying): Millis {
  const now = made.stamp.at;
  const { emergency } = open.to;
  const { minutes, plan } = settings;
  const later = now + rungMillis({ emergency, minutes });
  if (made.input.kind === 'attempt' && made.input.what === 'leg') return later;
  const next = nextRung({ plan, emergency, minutes, openedAt: open.openedAt, attempts, now });
  switch (next.kind) {
    case 'ring':
      return Math.max(now, next.at);
    case 'accepted':
    case 'nobody':
      return later;
  }
}

const RINGS_AT_MOST = 3;
const RING_AGAIN_MINUTES = 2;

/** A caller who was not reached is rung again, three times in all. */
function rungAgain({ input, stamp, after }: TurnMade): readonly OutboxWrite[] {
  const promise = after.context.promises.escalation;
  if (input.kind !== 'attempt' || input.what !== 'ring' || input.message === null) return [];
  if (promise === undefined || !isOver(input.came)) return [];
  const [first = '', ...before] = input.message.split('+');
  if (before.length + 1 >= RINGS_AT_MOST) return [];
  const id = `${first}+${[...before, 'again'].join('+')}` as NewMessage['id'];
  const template = first === messageIds.urgentByText(promise.id) ? 'urgent' : 'nobody-accepted';
  const dueAt = stamp.at + RING_AGAIN_MINUTES * MINUTE;
  return [{ write: 'add', message: ring(id, { promise: promise.id, template, dueAt }) }];
}

/** The message that a try was about ends with it. */
function settledBy({ input }: TurnMade): readonly OutboxWrite[] {
  if (input.kind !== 'attempt' || input.message === null) return [];
  const { message, staff, came, providerId } = input;
  const id = message as NewMessage['id'];
  return [{ write: 'settle', id, state: endOf(came), to: staff, providerId }];
}

function endOf(came: Attempt['came']): Settled['state'] {
  switch (came) {
    case 'sent':
    case 'shown':
    case 'delivered':
    case 'failed':
      return came;
    case 'accepted':
      return 'delivered';
    case 'refused':
    case 'busy':
    case 'no-answer':
    case 'voicemail':
    case 'not-accepted':
      return isOver(came) ? 'failed' : 'delivered';
  }
}

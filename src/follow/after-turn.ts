/** What a turn queues: pages about an open escalation, deadlines of the other promises, texts to the patient. */
import { MINUTE } from '../basics/civil-time.ts';
import type { Followed, Following, TurnMade } from '../call/following.ts';
import type { OnCallPlan } from '../people/rota.ts';
import { deadlinesAfter } from './deadlines.ts';
import type { RungMinutes } from './ladder.ts';
import { pagesAfter } from './pages-after.ts';
import { textsAfter } from './texts-after.ts';

/** What the practice's settings say about reaching people. */
export interface FollowSettings {
  readonly plan: OnCallPlan;
  readonly minutes: RungMinutes;
  /** Without acceptance for so long, the caller is rung and told where to go. */
  readonly callerRungAfterMinutes: number;
  /** A promise that is late by so much is paged about. */
  readonly lateMinutes: number;
  /** A danger question by text that is unanswered for so long is rung. */
  readonly textAnswerMinutes: number;
}

/** Calls that nobody made are followed by nothing. */
export function following(settings: FollowSettings): Following {
  return (made) => (isRung(made) ? followed(settings, made) : { paging: null, messages: [] });
}

function isRung({ channel }: TurnMade): boolean {
  switch (channel) {
    case 'desk':
    case 'line':
    case 'trial':
    case 'text':
      return true;
    case 'terminal':
    case 'replay':
      return false;
  }
}

function followed(settings: FollowSettings, made: TurnMade): Followed {
  const { paging, messages } = pagesAfter(settings, made);
  const late = {
    lateMillis: settings.lateMinutes * MINUTE,
    textAnswerMillis: settings.textAnswerMinutes * MINUTE,
  };
  return { paging, messages: [...messages, ...deadlinesAfter(late, made), ...textsAfter(made)] };
}

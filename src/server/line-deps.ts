/** Gives the line what it needs of the practice: whom to ring, whether the desk is staffed, how times are said. */
import type { Logger } from 'pino';
import { civilTime, weekdayOf } from '../basics/civil-time.ts';
import type { Clock, Millis } from '../basics/clock.ts';
import { BrokenTurn } from '../call/safe-end.ts';
import { sameDayCanBeMet } from '../clinical/promise-time.ts';
import type { DeskDeps } from '../desk/deps.ts';
import type { LineDeps, Rung } from '../line/deps.ts';
import { digitByDigit } from '../line/speakable.ts';
import type { Voice } from '../line/twiml.ts';
import { openingHoursOf, type Practice } from '../people/practice.ts';
import { whoIsOnCall } from '../people/rota.ts';
import { showTelephone } from '../people/show-telephone.ts';
import type { Content } from './content.ts';

export interface Reached {
  readonly providerToken: string;
  /** The address that the provider calls, without a slash at the end. */
  readonly publicUrl: string;
  readonly log: Logger;
}

export function lineDeps(content: Content, desk: DeskDeps, reached: Reached): LineDeps {
  const { practice, place, lineWords } = content;
  const { mayAdvise } = practice.line;
  return {
    turn: desk.turn,
    people: desk.people,
    practice,
    place,
    words: lineWords,
    voice: voiceOf(content),
    provider: { token: reached.providerToken, publicUrl: reached.publicUrl },
    ladder: (now) => ladder(practice, now),
    isOpen: (now) => isOpen(practice, now),
    mayAdvise: (flow) => practice.mode === 'demo' || flow.split('+').every((id) => mayAdvise.includes(id)),
    spokenTime: (at) => spokenTime(at, desk.turn.clock, practice.zone),
    shownTelephone: (stored) => showTelephone(stored, practice.country),
    broke: (error) => {
      const cause = error instanceof BrokenTurn ? error.cause : error;
      reached.log.error({ kind: cause instanceof Error ? cause.name : typeof cause }, 'line');
    },
  };
}

export function voiceOf({ practice, place }: Pick<Content, 'practice' | 'place'>): Voice {
  const { voice, language } = practice.line;
  return {
    voice,
    language,
    base: '/line',
    callerId: practice.telephones.line,
    isRecorded: practice.line.recording === 'on',
    emergency: digitByDigit(place.emergency.number),
  };
}

function ladder(practice: Practice, now: Millis): readonly Rung[] {
  const onCall = whoIsOnCall(practice, now);
  const rungs = onCall.ok
    ? onCall.value.ladder
    : onCall.fault.lastResort === null
      ? []
      : [{ rung: 'last-resort', staff: onCall.fault.lastResort }];
  return rungs.map(({ rung, staff }) => ({
    rung,
    staff: staff.id,
    name: staff.name,
    telephone: staff.telephone,
  }));
}

/** Open at this moment, be it only for a minute more. */
function isOpen(practice: Practice, now: Millis): boolean {
  const met = sameDayCanBeMet({ now, hours: openingHoursOf(practice), visitMinutes: 0 });
  return met.ok && met.value;
}

/** "Tuesday at 6 in the evening"; today and tomorrow by these names. */
function spokenTime(at: Millis, clock: Clock, zone: string): string {
  const [then, today, tomorrow] = [at, clock.now(), clock.now() + 86_400_000].map((one) =>
    civilTime(one, zone),
  );
  if (then?.ok !== true || today?.ok !== true || tomorrow?.ok !== true)
    return 'the time that we ring you about';
  const { date, clock: time } = then.value;
  const weekday = weekdayOf(date);
  const day =
    date === today.value.date
      ? 'today'
      : date === tomorrow.value.date
        ? 'tomorrow'
        : weekday.ok
          ? `on ${weekday.value.slice(0, 1).toUpperCase()}${weekday.value.slice(1)}`
          : date;
  return `${clockWords(time)} ${day}`;
}

function clockWords(time: string): string {
  const [hour = 0, minute = 0] = time.split(':').map(Number);
  const part = hour < 12 ? 'in the morning' : hour < 18 ? 'in the afternoon' : 'in the evening';
  const twelve = hour % 12 === 0 ? 12 : hour % 12;
  const past = minute === 0 ? '' : ` ${minute}`;
  return `${twelve}${past} ${part}`;
}

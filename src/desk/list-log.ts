/**
 * GET /api/log: calls by time, channel, procedure, day, outcome, possible complication, who took them, and words. The
 * record is sealed, so words are looked for by reading calls: only the newest of those that fit otherwise.
 */
import { addDays, civilTime, instantOf } from '../basics/civil-time.ts';
import { fault, type Fault } from '../basics/fault.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import type { CallSpan } from '../review/call-audit.ts';
import { logFilterSchema, type LogAnswer, type LogFilter } from './contract/log.ts';
import type { DeskDeps } from './deps.ts';
import { readBody, type Endpoint } from './endpoint.ts';
import { concernTitle, dayOf, loggedCall, logLine, type LoggedCall } from './view/log-line.ts';

const LOOKED_AT = 1_000;
const READ_FOR_WORDS = 300;
const USUAL_DAYS = 30;
const MIDNIGHT = '00:00';

export const listLog: Endpoint = async (deps, { search }) => {
  const filter = readBody(logFilterSchema, search);
  if (!filter.ok) return filter;
  const days = daysOf(deps, filter.value);
  if (!days.ok) return days;
  const heads = await deps.callAudits.callsBetween({ ...days.value.span, limit: LOOKED_AT + 1 });
  if (!heads.ok) return failed(fault('store-down', 'The calls cannot be read now.'));
  const looked = await Promise.all(heads.value.slice(0, LOOKED_AT).map((one) => loggedCall(deps, one)));
  const fitting = looked.filter((one) => fits(one, filter.value));
  const words = wordsIn(filter.value.words ?? '');
  const read = words.length === 0 ? fitting : fitting.slice(0, READ_FOR_WORDS);
  const lines = words.length === 0 ? fitting : await saying(deps, read, words);
  const answer: LogAnswer = {
    lines: lines.map((one) => logLine(deps, one)),
    looked: looked.length,
    more: heads.value.length > LOOKED_AT,
    readForWords: words.length === 0 ? null : read.length,
    from: days.value.from,
    to: days.value.to,
    choices: choices(deps, looked),
  };
  return ok(answer);
};

interface Days {
  readonly from: string;
  readonly to: string;
  readonly span: Omit<CallSpan, 'limit'>;
}

/** The last thirty days unless others are asked for. */
function daysOf({ turn, practice }: DeskDeps, filter: LogFilter): Result<Days, Fault> {
  const today = civilTime(turn.clock.now(), practice.zone);
  if (!today.ok) return today;
  const to = filter.to ?? today.value.date;
  const first = addDays(to, -USUAL_DAYS);
  const from = filter.from ?? (first.ok ? first.value : to);
  const after = addDays(to, 1);
  const since = instantOf(from, MIDNIGHT, practice.zone);
  const until = after.ok ? instantOf(after.value, MIDNIGHT, practice.zone) : after;
  if (!since.ok) return since;
  return until.ok ? ok({ from, to, span: { since: since.value, until: until.value } }) : until;
}

function fits(logged: LoggedCall, filter: LogFilter): boolean {
  const { head } = logged.loaded;
  const { channel, procedure, outcome, about, by, reviewed, day } = filter;
  return (
    (channel === undefined || head.channel === channel) &&
    (procedure === undefined || (logged.operation?.procedures ?? []).some((id) => id === procedure)) &&
    (outcome === undefined || head.outcome?.startsWith(`${outcome}/`) === true) &&
    (about === undefined || head.about === about) &&
    (by === undefined || logged.takenBy === by) &&
    (reviewed === undefined || logged.reviewed === (reviewed === 'yes')) &&
    (day === undefined || isWithin(dayOf(logged), day))
  );
}

function isWithin(day: number | null, days: string): boolean {
  const [first = 0, last = first] = days.split('-').map(Number);
  return day !== null && day >= first && day <= last;
}

function wordsIn(text: string): readonly string[] {
  return text
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== '');
}

/** Those calls in which every word was said or written, one call after the other so that nothing else waits long. */
async function saying(
  deps: DeskDeps,
  calls: readonly LoggedCall[],
  words: readonly string[],
): Promise<readonly LoggedCall[]> {
  const found: LoggedCall[] = [];
  for (const one of calls) {
    const events = await deps.turn.store.events(one.loaded.call);
    const said = events.ok ? events.value.map(({ sealed }) => JSON.stringify(sealed)) : [];
    const text = said.join(' ').toLowerCase();
    if (words.every((word) => text.includes(word))) found.push(one);
  }
  return found;
}

function choices(deps: DeskDeps, looked: readonly LoggedCall[]): LogAnswer['choices'] {
  const procedures = new Set(looked.flatMap(({ operation }) => operation?.procedures ?? []));
  const concerns = new Set(looked.flatMap(({ loaded }) => loaded.head.about ?? []));
  return {
    procedures: [...procedures].map((id) => ({ id, title: deps.procedureTitle(id) })).toSorted(byTitle),
    concerns: [...concerns].map((id) => ({ id, title: concernTitle(deps, id) })).toSorted(byTitle),
    staff: deps.practice.staff.map(({ id, name }) => ({ id, title: name })).toSorted(byTitle),
  };
}

function byTitle(a: { readonly title: string }, b: { readonly title: string }): number {
  return a.title.localeCompare(b.title);
}

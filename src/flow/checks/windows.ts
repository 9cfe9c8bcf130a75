/** Checks days: aftercare and what is usual cover 0-365 without a gap or an overlap, topics exist, signs are there. */
import { LAST_DAY } from '../../clinical/window.ts';
import type { FlowFiles } from '../files.ts';
import type { Report, ReportPlace } from './report.ts';

interface Dated {
  readonly days: readonly [number, number];
  readonly hours?: readonly [number, number];
}

export function checkWindows(files: FlowFiles, report: Report): void {
  for (const { data, source } of files.procedures.values()) {
    checkAftercare(data.aftercare, { source, path: ['aftercare'] }, report);
    checkCover(
      { what: 'what is usual', items: data.normal, mayOverlap: false },
      { source, path: ['normal'] },
      report,
    );
    checkCover(
      { what: 'safety-net signs', items: data['safety-net'], mayOverlap: true },
      { source, path: ['safety-net'] },
      report,
    );
    for (const topic of Object.keys(data.topics)) {
      if (files.topics.has(topic)) continue;
      report(
        'unknown-topic',
        { source, path: ['topics', topic] },
        `"${topic}" is no topic; a file of topics/ is accepted.`,
      );
    }
  }
  for (const { data, source } of files.topics.values()) {
    if (data.rules.length === 0 || data['safety-net'].length > 0) continue;
    report(
      'no-safety-net',
      { source, path: ['safety-net'] },
      `Topic "${data.topic}" has rules and no safety-net sign stands here; at least one is accepted.`,
    );
  }
}

/** Each kind of aftercare that is written covers every day once. */
export function checkAftercare(
  plan: Readonly<Record<string, readonly Dated[]>>,
  place: ReportPlace,
  report: Report,
): void {
  for (const [kind, items] of Object.entries(plan)) {
    const at = { source: place.source, path: [...place.path, kind] };
    checkCover({ what: `aftercare ${kind}`, items, mayOverlap: false }, at, report);
  }
}

interface Cover {
  readonly what: string;
  readonly items: readonly Dated[];
  readonly mayOverlap: boolean;
}

/** One moment after surgery; null hours stand for a call in which only the day is known. */
interface Moment {
  readonly day: number;
  readonly hours: number | null;
}

/** Every day has something said for it, and where it may not overlap only one thing; the first run of each is reported. */
function checkCover({ what, items, mayOverlap }: Cover, place: ReportPlace, report: Report): void {
  const gaps: Moment[] = [];
  const overlaps = new Map<number, Moment>();
  for (let day = 0; day <= LAST_DAY; day += 1) {
    for (const moment of momentsOf(day, items)) {
      const said = items.flatMap((item, at) => (isSaidAt(item, moment) ? [at] : []));
      const [, second] = said;
      if (said.length === 0) gaps.push(moment);
      else if (second !== undefined && !mayOverlap && !overlaps.has(second)) overlaps.set(second, moment);
    }
  }
  for (const run of runsOf(gaps)) {
    const message = `${what} says nothing for ${run}; windows that cover 0-${LAST_DAY} are accepted.`;
    report('days-gap', place, message);
  }
  for (const [at, moment] of overlaps) {
    const message = `${what} says two things for ${momentText(moment)}; windows that do not overlap are accepted.`;
    report('days-overlap', { ...place, path: [...place.path, at] }, message);
  }
}

/** The hours that can have passed on that day, where anything is said by hours; else the day alone. */
function momentsOf(day: number, items: readonly Dated[]): readonly Moment[] {
  const byHours = items.some(({ days, hours }) => hours !== undefined && days[0] <= day && day <= days[1]);
  if (!byHours) return [{ day, hours: null }];
  const from = Math.max(0, (day - 1) * 24);
  const hours = Array.from({ length: (day + 1) * 24 - from }, (_, at) => from + at);
  return [{ day, hours: null }, ...hours.map((hour) => ({ day, hours: hour }))];
}

/** With unknown hours the earliest of several texts by hours is the one that is said. */
function isSaidAt(item: Dated, { day, hours }: Moment): boolean {
  if (day < item.days[0] || day > item.days[1]) return false;
  if (item.hours === undefined) return true;
  return hours === null ? item.hours[0] === 0 : hours >= item.hours[0] && hours <= item.hours[1];
}

/** Gaps of whole days that follow each other are said once, those of hours once for each day. */
function runsOf(gaps: readonly Moment[]): readonly string[] {
  const days = gaps.filter(({ hours }) => hours === null).map(({ day }) => day);
  const runs: [number, number][] = [];
  for (const day of days) {
    const last = runs.at(-1);
    if (last?.[1] === day - 1) last[1] = day;
    else runs.push([day, day]);
  }
  const byHours = gaps.filter(({ day, hours }) => hours !== null && !days.includes(day));
  const first = new Map(byHours.map((gap) => [gap.day, gap] as const).toReversed());
  return [
    ...runs.map(([from, to]) => `days ${String(from)}-${String(to)}`),
    ...[...first.values()].toReversed().map(momentText),
  ];
}

function momentText({ day, hours }: Moment): string {
  return hours === null ? `day ${String(day)}` : `day ${String(day)}, hour ${String(hours)}`;
}

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
    const scores = data.rules.some((rule) => rule.points !== undefined || rule['red-flag'] !== undefined);
    if (!scores || data['safety-net'].length > 0) continue;
    report(
      'no-safety-net',
      { source, path: ['safety-net'] },
      `Topic "${data.topic}" scores but names no safety-net sign; at least one is needed.`,
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

function checkCover({ what, items, mayOverlap }: Cover, place: ReportPlace, report: Report): void {
  let next = 0;
  for (const { days, hours } of items.toSorted((a, b) => a.days[0] - b.days[0])) {
    if (days[0] > next) {
      report(
        'days-gap',
        place,
        `${what} says nothing for days ${next}-${days[0] - 1}; windows that cover 0-${LAST_DAY} are accepted.`,
      );
    }
    if (days[0] < next && hours === undefined && !mayOverlap) {
      report(
        'days-overlap',
        place,
        `${what} says two things for day ${days[0]}; windows that do not overlap are accepted.`,
      );
    }
    next = Math.max(next, days[1] + 1);
  }
  if (next <= LAST_DAY) {
    report(
      'days-gap',
      place,
      `${what} says nothing for days ${next}-${LAST_DAY}; windows that cover 0-${LAST_DAY} are accepted.`,
    );
  }
}

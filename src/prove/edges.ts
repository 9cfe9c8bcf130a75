/** Holds the scripts against the second entry (`flows/edges`): every row on its first and last day, and just outside. */
import { assess } from '../call/assess.ts';
import { freshCircumstances } from '../call/circumstances.ts';
import type { Outcome } from '../clinical/outcome.ts';
import { holdsAt } from '../clinical/window.ts';
import type { Flow } from '../flow/compiled.ts';
import type { Edge, EdgeOutcome, PinnedWords } from '../flow/edges.ts';
import type { FlowLibrary } from '../flow/library.ts';

const LAST_DAY = 365;

/** Where the two entries differ: file, line and one sentence. */
export interface EdgeGap {
  readonly file: string;
  readonly line: number;
  readonly message: string;
}

export interface EdgesChecked {
  readonly rows: number;
  readonly gaps: readonly EdgeGap[];
}

export function checkEdges(library: FlowLibrary): EdgesChecked {
  const gaps: EdgeGap[] = [];
  let rows = 0;
  for (const { data, source } of library.files.edges) {
    for (const [at, edge] of data.edges.entries()) {
      rows += 1;
      const line = source.lineOf(['edges', at]);
      for (const message of gapsOf(library, edge)) gaps.push({ file: source.file, line, message });
    }
    for (const [at, pinned] of (data.words ?? []).entries()) {
      rows += 1;
      const message = wordsGap(library, pinned);
      if (message !== null) gaps.push({ file: source.file, line: source.lineOf(['words', at]), message });
    }
  }
  return { rows, gaps };
}

function gapsOf(library: FlowLibrary, edge: Edge): readonly string[] {
  const procedures = edge.on === 'all' ? library.procedures : edge.on;
  return procedures.flatMap((id) => {
    const { flow } = library.flowFor([id]);
    return momentsOf(edge).flatMap(({ day, hours, wanted }) => {
      const came = outcomeAt(flow, edge, { day, hours });
      if (came === wanted) return [];
      const answers = Object.entries(edge.findings)
        .map(([finding, value]) => `${finding} ${String(value)}`)
        .join(', ');
      return [
        `${id}, day ${String(day)}, ${answers}: the script comes to ${came}, the second entry to ${wanted}.`,
      ];
    });
  });
}

interface Moment {
  readonly day: number;
  readonly hours: number | null;
  readonly wanted: EdgeOutcome;
}

function momentsOf(edge: Edge): readonly Moment[] {
  const { days, hours, outside } = edge;
  const inside = edge['comes-to'];
  if (hours !== undefined) {
    return hours.map((hour) => ({ day: Math.floor(hour / 24), hours: hour, wanted: inside }));
  }
  const [first, last] = days;
  const at = (day: number, wanted: EdgeOutcome): Moment => ({ day, hours: null, wanted });
  const beyond =
    outside === undefined ? [] : [first - 1, last + 1].filter((day) => day >= 0 && day <= LAST_DAY);
  return [
    ...[...new Set([first, last])].map((day) => at(day, inside)),
    ...beyond.map((day) => at(day, outside ?? inside)),
  ];
}

function outcomeAt(flow: Flow, edge: Edge, { day, hours }: Pick<Moment, 'day' | 'hours'>): EdgeOutcome {
  // Beyond the hours that count, a day is enough; within them only a row that gives hours says them.
  const known = hours ?? (day > 3 ? day * 24 : null);
  const { outcome } = assess(flow, freshCircumstances({ day, hours: known }), edge.findings);
  return nameOf(outcome);
}

function nameOf({ within, emergency }: Outcome): EdgeOutcome {
  return emergency ? 'emergency' : within;
}

/** Some words stand wherever they are looked for, whatever their case. */
function wordsGap(library: FlowLibrary, { of, 'all-of': wanted }: PinnedWords): string | null {
  const texts = textsOf(library, of);
  if (texts.length === 0) return 'No text stands where these words are looked for.';
  for (const text of texts) {
    const missing = wanted.filter((word) => !text.toLowerCase().includes(word.toLowerCase()));
    if (missing.length > 0) return `"${missing.join('", "')}" is missing in: ${text}`;
  }
  return null;
}

/** One text a place: of a question both ways of putting it, each of which must have the words. */
function textsOf(library: FlowLibrary, of: PinnedWords['of']): readonly string[] {
  if ('aftercare' in of) {
    const { flow } = library.flowFor([of.procedure]);
    const time = { day: of.day, hours: null };
    const says = flow.aftercare.filter((one) => one.kind === of.aftercare && holdsAt(one.window, time));
    return says.length === 0 ? [] : [says.map(({ say }) => say).join(' ')];
  }
  const { topics, procedures } = library.files;
  const files = [...topics.values(), ...procedures.values()].map(({ data }) => data);
  if ('rule' in of) {
    const rules = files.flatMap(({ rules }) => rules).filter(({ id }) => id === of.rule);
    return rules.flatMap((rule) =>
      rule['red-flag'] === undefined ? [] : [rule['red-flag']['until-seen'].join(' ')],
    );
  }
  if ('question' in of) {
    const questions = files.flatMap(({ questions }) => questions).filter(({ id }) => id === of.question);
    return questions.flatMap(({ words, spoken }) => [words, spoken]);
  }
  const home = topics.get(of['safety-net'])?.data ?? procedures.get(of['safety-net'])?.data;
  const signs = (home?.['safety-net'] ?? []).filter(({ days: [from, to] }) => from <= of.day && of.day <= to);
  return signs.length === 0 ? [] : [signs.map(({ say }) => say).join(' ')];
}

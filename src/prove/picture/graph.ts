/** What a picture of one run of days shows: questions, possible complications, outcomes, and what leads where. */
import { LADDER, rank, type Outcome } from '../../clinical/outcome.ts';
import type { Flow, Rule } from '../../flow/compiled.ts';
import { conditionWords, isOnlyUnsure, outcomeWords } from './answer-words.ts';
import { askedOn, touches, type Days } from './day-windows.ts';

export interface PictureNode {
  readonly id: string;
  readonly kind: 'question' | 'concern' | 'outcome';
  /** What it is, one line each. */
  readonly lines: readonly string[];
  /** What can be answered, or how many points it takes; each leads somewhere by itself. One or more lines each. */
  readonly rows: readonly (readonly string[])[];
}

export interface PictureEdge {
  readonly from: string;
  /** Which row it leaves from, counted from 0. */
  readonly row: number;
  readonly to: string;
}

export interface PictureGraph {
  readonly nodes: readonly PictureNode[];
  readonly edges: readonly PictureEdge[];
}

const LINE = 50;
const ROWS_AT_MOST = 7;

/** A row of a box before it is broken into lines. */
interface Row {
  readonly text: string;
  readonly to: string;
  /** The worse comes first; points come after outcomes. */
  readonly weight: number;
}

export function pictureOf(flow: Flow, days: Days): PictureGraph {
  const asked = askedOn(flow, days);
  const home = new Map(asked.flatMap(({ id, findings }) => findings.map((finding) => [finding, id])));
  const rules = flow.rules.filter((rule) => touches(rule.window, days) && !isOnlyUnsure(rule.if));
  const rows = new Map(asked.map(({ id }): [string, readonly Row[]] => [id, []]));
  for (const rule of rules) {
    for (const { question, row } of rowsOf(flow, rule, home))
      rows.set(question, [...(rows.get(question) ?? []), row]);
  }
  const questions = asked.map(({ id, spoken }) =>
    boxOf(`question ${id}`, 'question', { title: spoken, rows: rows.get(id) ?? [] }),
  );
  const used = new Set(questions.flatMap(({ edges }) => edges.map(({ to }) => to)));
  const concerns = flow.concerns
    .filter(({ id }) => used.has(concernId(id)))
    .map(({ id, title, thresholds }) => {
      const levels = thresholds.map(({ points, to, when }) => ({
        text: `${String(points)} points or more${when === null ? '' : ', with more'}`,
        to: outcomeId(to),
        weight: rank(to),
      }));
      return boxOf(concernId(id), 'concern', { title, rows: levels });
    });
  const edges = [...questions, ...concerns].flatMap((box) => box.edges);
  const reached = new Set(edges.map(({ to }) => to));
  const nodes = [...questions, ...concerns].map(({ node }) => node);
  return { nodes: [...nodes, ...outcomesOf(reached)], edges };
}

function outcomeId(to: Outcome): string {
  return `outcome ${String(rank(to))}`;
}

function concernId(id: string): string {
  return `concern ${id}`;
}

interface Boxed {
  readonly node: PictureNode;
  readonly edges: readonly PictureEdge[];
}

function boxOf(
  id: string,
  kind: PictureNode['kind'],
  { title, rows }: { readonly title: string; readonly rows: readonly Row[] },
): Boxed {
  const sorted = rows.toSorted((a, b) => b.weight - a.weight);
  const shown = sorted.length > ROWS_AT_MOST ? sorted.slice(0, ROWS_AT_MOST - 1) : sorted;
  const left = sorted.length - shown.length;
  const texts = shown.map(({ text }) => wrap(text, LINE));
  const more = left > 0 ? [[`and ${String(left)} more on the sheet`]] : [];
  return {
    node: { id, kind, lines: wrap(title, kind === 'question' ? LINE : 30), rows: [...texts, ...more] },
    edges: shown.map(({ to }, row) => ({ from: id, row, to })),
  };
}

/** At the first unprompted question that an alternative is about; what none of them asks stands on the sheet only. */
function rowsOf(
  flow: Flow,
  { if: condition, effect }: Rule,
  home: ReadonlyMap<string, string>,
): readonly { readonly question: string; readonly row: Row }[] {
  const to = effect.kind === 'points' ? concernId(effect.concern) : outcomeId(effect.to);
  const gain = effect.kind === 'points' ? ` (+${String(effect.points)})` : '';
  // What one answer decides by itself stands above what takes several.
  const alone = condition.some((row) => row.length === 1) ? 0.5 : 0;
  const weight = alone + (effect.kind === 'points' ? effect.points / 100 : rank(effect.to));
  const words = conditionWords(flow, condition);
  const byQuestion = new Map<string, string[]>();
  condition.forEach((row, at) => {
    const question = row.map(({ finding }) => home.get(finding)).find((id) => id !== undefined);
    if (question === undefined) return;
    byQuestion.set(question, [...(byQuestion.get(question) ?? []), words[at] ?? '']);
  });
  return [...byQuestion].map(([question, all]) => {
    const [first = '', ...others] = all;
    const more =
      others.length === 0
        ? ''
        : `, or ${String(others.length)} other ${others.length === 1 ? 'way' : 'ways'}`;
    return { question, row: { text: `${first}${more}${gain}`, to, weight } };
  });
}

function outcomesOf(reached: ReadonlySet<string>): readonly PictureNode[] {
  return LADDER.toReversed()
    .filter((to) => reached.has(outcomeId(to)))
    .map((to) => ({ id: outcomeId(to), kind: 'outcome', lines: wrap(outcomeWords(to), 22), rows: [] }));
}

/** Breaks at spaces; a word that is longer than a line keeps its own. */
function wrap(text: string, width: number): readonly string[] {
  const lines: string[] = [];
  for (const word of text.split(/\s+/)) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + word.length + 1 <= width)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

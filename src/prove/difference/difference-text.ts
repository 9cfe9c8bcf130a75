/** A difference of two flows as Markdown for the person who signs, and as plain JSON. */
import type { Json } from '../../basics/json.ts';
import { LADDER, type Outcome } from '../../clinical/outcome.ts';
import { findingsText, outcomeText, rankText } from '../phrases.ts';
import { timeText } from '../times.ts';
import type { Change, Part } from './changes.ts';
import { isExact, type Bounds, type OutcomeCounts, type ThresholdCount } from './counts.ts';
import { shortestMoves, type DayClass, type Difference, type Move } from './difference.ts';

export function differenceMarkdown(difference: Difference): string {
  const { before, after, changes, classes } = difference;
  const lines = [
    `# What an edit of ${after.title} changes`,
    '',
    `From content ${before.hash.slice(0, 12)} to ${after.hash.slice(0, 12)}.`,
    '',
    '## In words and rules',
    '',
    ...(changes.length === 0 ? ['Nothing.'] : changeLines(changes)),
    '',
    '## Outcomes that move',
    '',
    ...moveLines(difference),
    '',
    ...(classes.length === 0 ? [] : countLines(difference)),
  ];
  return `${lines.join('\n').trimEnd()}\n`;
}

function changeLines(changes: readonly Change[]): readonly string[] {
  const parts = [...new Set(changes.map(({ part }) => part))];
  return parts.flatMap((part, at) => [
    ...(at === 0 ? [] : ['']),
    `### ${HEADINGS[part]}`,
    '',
    ...changes.filter((change) => change.part === part).map(changeLine),
  ]);
}

const HEADINGS: Readonly<Record<Part, string>> = {
  flow: 'The flow',
  question: 'Questions',
  rule: 'Rules',
  concern: 'Concerns and thresholds',
  finding: 'Findings',
  aftercare: 'Aftercare',
  'safety-net': 'Safety-net',
  'what is usual': 'What is usual',
  'common words': 'Words of every call',
};

function changeLine({ id, what, before, after }: Change): string {
  if (before === null) return `- **${id}**${what === 'whole' ? '' : `, ${what}`}: new. ${after ?? ''}`;
  if (after === null) return `- **${id}**${what === 'whole' ? '' : `, ${what}`}: gone. It was: ${before}`;
  return `- **${id}**, ${what}: was "${before}", is "${after}"`;
}

function moveLines(difference: Difference): readonly string[] {
  const moves = shortestMoves(difference);
  const undecided = difference.classes.flatMap(({ days, undecided: open }) =>
    open.map(({ from, to }) => `${outcomeText(from)} to ${outcomeText(to)} on ${days}`),
  );
  const open = undecided.map(
    (text) => `- Not decided within ${String(difference.budget.steps)} steps: ${text}.`,
  );
  if (moves.length === 0) {
    const none = 'No combination of answers moves from one outcome to another on any day.';
    return [undecided.length === 0 ? none : 'None was found.', ...open];
  }
  return [
    '| from | to | on | the shortest call that shows it |',
    '| --- | --- | --- | --- |',
    ...moves.map(
      (move) =>
        `| ${outcomeText(move.from)} | ${outcomeText(move.to)} | ${move.days.join('; ')} | ${exampleText(move)} |`,
    ),
    ...(open.length === 0 ? [] : ['', ...open]),
  ];
}

function exampleText({ example: { at, findings, isAsked } }: Move): string {
  return `${timeText(at)}: ${findingsText(findings)}${isAsked ? '' : ' (not all of it is asked on these days; it counts when volunteered)'}`;
}

function countLines({ classes, unchangedDays }: Difference): readonly string[] {
  return [
    '## Combinations of answers',
    '',
    'Counted are the answers to everything that some question settles: each value, not knowing, and not reached; what hangs',
    'on another answer only where that opens it. A range stands where the exact number did not fit the budget: the number',
    'lies in it.',
    ...classes.flatMap(classLines),
    ...(unchangedDays.length === 0
      ? []
      : ['', `Nothing counts differently on: ${unchangedDays.join('; ')}.`]),
  ];
}

function classLines({ days, thresholds, outcomes }: DayClass): readonly string[] {
  return [
    '',
    `### ${days.charAt(0).toUpperCase()}${days.slice(1)}`,
    ...(thresholds.length === 0 ? [] : thresholdLines(thresholds)),
    ...(outcomes === null ? [] : outcomeLines(outcomes)),
  ];
}

function thresholdLines(thresholds: readonly ThresholdCount[]): readonly string[] {
  return [
    '',
    '| concern | points | comes to | before | after |',
    '| --- | --- | --- | --- | --- |',
    ...thresholds.map(
      ({ concern, points, to, before, after }) =>
        `| ${concern} | ${String(points)} | ${outcomeText(to)} | ${optionalText(before)} | ${optionalText(after)} |`,
    ),
  ];
}

function optionalText(bounds: Bounds | null): string {
  return bounds === null ? 'no such threshold' : boundsText(bounds);
}

function outcomeLines({ combinations, before, after, moved }: OutcomeCounts): readonly string[] {
  const rows = LADDER.flatMap((_, rank) => {
    const was = before[rank];
    const is = after[rank];
    return was === undefined || is === undefined || (was.high === 0n && is.high === 0n)
      ? []
      : [`| ${rankText(rank)} | ${boundsText(was)} | ${boundsText(is)} |`];
  });
  return [
    '',
    `Of ${numberText(combinations)} combinations:`,
    '',
    '| outcome | before | after |',
    '| --- | --- | --- |',
    ...rows,
    '',
    ...moved.map(
      ({ from, to, ways }) => `- ${boundsText(ways)} move from ${rankText(from)} to ${rankText(to)}.`,
    ),
  ];
}

function boundsText(bounds: Bounds): string {
  if (isExact(bounds)) return numberText(bounds.low);
  return `between ${numberText(bounds.low)} and ${numberText(bounds.high)} (bounds)`;
}

function numberText(number: bigint): string {
  return number.toString().replace(/\B(?=(\d{3})+$)/g, ' ');
}

/** Numbers of combinations are text: they pass what a JSON reader keeps exactly. */
export function differenceJson(difference: Difference): Json {
  const { before, after, changes, classes, unchangedDays, budget } = difference;
  return {
    before: { ...before },
    after: { ...after },
    changes: changes.map((change) => ({ ...change })),
    moves: shortestMoves(difference).map((move) => ({ ...moveJson(move), days: move.days })),
    classes: classes.map((one) => ({
      days: one.days,
      at: { ...one.at },
      moves: one.moves.map(moveJson),
      undecided: one.undecided.map(({ from, to }) => ({ from: { ...from }, to: { ...to } })),
      thresholds: one.thresholds.map(({ concern, points, to, before: was, after: is }) => ({
        concern,
        points,
        to: { ...to },
        before: was === null ? null : boundsJson(was),
        after: is === null ? null : boundsJson(is),
      })),
      outcomes: one.outcomes === null ? null : outcomesJson(one.outcomes),
    })),
    unchangedDays,
    budget: { ...budget },
  };
}

function moveJson({ from, to, example }: Move) {
  return {
    from: { ...from },
    to: { ...to },
    example: { at: { ...example.at }, findings: { ...example.findings }, isAsked: example.isAsked },
  };
}

function outcomesJson({ combinations, before, after, moved }: OutcomeCounts): Json {
  const outcomeOf = (rank: number): Outcome | undefined => LADDER[rank];
  const each = (all: readonly Bounds[]): Json =>
    all.map((bounds, rank) => ({ outcome: rankText(rank), ...boundsJson(bounds) }));
  return {
    combinations: combinations.toString(),
    before: each(before),
    after: each(after),
    moved: moved.map(({ from, to, ways }) => ({
      from: { ...outcomeOf(from) },
      to: { ...outcomeOf(to) },
      ...boundsJson(ways),
    })),
  };
}

function boundsJson(bounds: Bounds) {
  return { low: bounds.low.toString(), high: bounds.high.toString(), exact: isExact(bounds) };
}

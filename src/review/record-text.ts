/** A record as plain text, for print and for the terminal: the same sections in the same order for every call. */
import { showConversation, showFindings } from './show-said.ts';
import { showDecision, showMove, showPromise, showTold } from './show-decided.ts';
import { showReached } from './show-reached.ts';
import { quoted, showActor, showId, showKept, showOutcome, showSince, showTime } from './show-parts.ts';
import type { RecordHeader, RecordView } from './view.ts';
import { WORDS } from './words.ts';

/** `zone` is where the times are shown; usually the one of the record's header. */
export function recordText(view: RecordView, zone: string): string {
  const { sections } = WORDS;
  const last = view.outcomes.at(-1);
  return [
    WORDS.title,
    ...(last === undefined ? [] : [showOutcome(last.outcome)]),
    ...headerLines(view.header, zone),
    ...section(sections.conversation, showConversation(view.conversation, zone)),
    ...section(sections.findings, view.findings.flatMap(showFindings(zone))),
    ...section(sections.outcomes, view.outcomes.flatMap(showMove(zone))),
    ...section(sections.told, view.told.flatMap(showTold(zone))),
    ...section(sections.handover, handoverLines(view, zone)),
    ...section(sections.decisions, view.decisions.flatMap(showDecision(zone))),
    ...section(sections.promises, view.promises.map(showPromise(zone))),
    ...section(sections.reached, view.reached.map(showReached(zone))),
    ...section(sections.closed, closedLines(view, zone)),
    '',
  ].join('\n');
}

/** A section without lines says so, so that nobody takes a lost page for an empty one. */
function section(title: string, lines: readonly string[]): readonly string[] {
  const shown = lines.length === 0 ? [WORDS.none] : lines;
  return ['', title, ...shown.map((line) => `  ${line}`)];
}

function headerLines(header: RecordHeader, zone: string): readonly string[] {
  const words = WORDS.header;
  const scripts = header.scripts.map(({ flow, hash }) => `${showId(flow)} (${hash.slice(0, 12)})`);
  const operation = header.procedures.map(showId).join(', ') || WORDS.unknown;
  return [
    `${words.started}: ${showTime(header.startedAt, zone)} (${zone})`,
    `${words.channel}: ${channelOf(header)}`,
    `${words.number}: ${showKept(header.callerNumber)}`,
    `${words.script}: ${scripts.join(', ')}`,
    `${words.operation}: ${[operation, ...header.times.map(showSince)].join('; ')}`,
    `${words.clinic}: ${WORDS.clinic[header.clinic]}`,
    `${words.program}: ${header.program}`,
  ];
}

function channelOf({ channel, direction }: RecordHeader): string {
  const channels: Readonly<Record<string, string>> = WORDS.channels;
  const directions: Readonly<Record<string, string>> = WORDS.directions;
  return `${channels[channel] ?? channel}; ${directions[direction] ?? direction}`;
}

function handoverLines({ handover }: RecordView, zone: string): readonly string[] {
  if (handover === null) return [];
  const when = showTime(handover.at, zone);
  if ('erased' in handover.text) return [`${when}  ${WORDS.erased}`];
  return [when, ...(handover.text.said ?? '').split('\n').map((line) => showKept({ said: line }))];
}

function closedLines({ closed }: RecordView, zone: string): readonly string[] {
  if (closed === null) return [];
  const by = `${showTime(closed.at, zone)}  ${WORDS.by} ${showActor(closed.by)}`;
  const understood = closed.understood ? WORDS.understood.yes : WORDS.understood.no;
  return [by, `${understood}; ${WORDS.agreed}: ${quoted(closed.agreed)}`];
}

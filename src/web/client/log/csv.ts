/** The log as comma-separated values (RFC 4180), safe to open in a spreadsheet. */
import type { LogLine } from '../../../desk/contract/log.ts';
import { LOG_WORDS } from '../../log-words.ts';
import { WORDS } from '../../words.ts';
import { outcomeLabel } from '../outcome-label.tsx';

const W = LOG_WORDS;

export function csvOf(lines: readonly LogLine[]): string {
  const head = [W.started, W.patient, W.operation, WORDS.person.day, W.outcome, W.about, W.by, W.channel];
  const rows = lines.map((line) => [
    new Date(line.started.at).toISOString(),
    line.patient ?? WORDS.home.unknownCaller,
    line.operation ?? '',
    line.day === null ? '' : String(line.day),
    line.outcome === null ? W.open : outcomeLabel(line.outcome),
    line.about ?? '',
    line.takenBy ?? W.nobody,
    W.channels[line.channel],
    line.reviewed ? W.yes : W.no,
  ]);
  return [[...head, W.reviewed], ...rows].map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}

/** A spreadsheet would run a cell that begins like a formula; a leading quote makes it text. */
function cell(text: string): string {
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return `"${safe.replaceAll('"', '""')}"`;
}

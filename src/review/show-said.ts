/** What was said, and what stands because of it, as lines of text. */
import {
  quoted,
  plainText,
  showActor,
  showId,
  showKept,
  showSince,
  showTime,
  showValue,
} from './show-parts.ts';
import type { ConversationLine, FindingChange, FindingStands } from './view.ts';
import { WORDS } from './words.ts';

export function showConversation(lines: readonly ConversationLine[], zone: string): readonly string[] {
  return lines.map((line) => {
    const when = `${showTime(line.at, zone)}  ${showActor(line.by)}`;
    return `${when}  ${WORDS.lines[line.kind]}: ${said(line)}`;
  });
}

function said(line: ConversationLine): string {
  switch (line.kind) {
    case 'opening':
    case 'noted':
      return quoted(line.text);
    case 'asked':
      return `${plainText(line.words)}${line.again ? ` (${WORDS.again})` : ''}`;
    case 'answered':
      return `${showValue(line.value)} [${showId(line.question)}]${corrected(line.correction)}`;
    case 'written':
      return `${quoted(line.text)} [${showId(line.question)}]`;
    case 'volunteered': {
      const found = Object.entries(line.findings).map(([id, value]) => `${showId(id)}: ${showValue(value)}`);
      const inWords = 'said' in line.words && line.words.said === null ? '' : `; ${quoted(line.words)}`;
      return `${found.join(', ')}${inWords}${corrected(line.correction)}`;
    }
    case 'heard': {
      const asked = line.question === null ? '' : ` [${showId(line.question)}]`;
      return `${WORDS.heardBy[line.how]} ${quoted(line.text)}${asked}: ${WORDS.taken[line.taken]}`;
    }
    case 'reopened':
      return showId(line.question);
    case 'identified': {
      const facts = line.facts.map(({ fact, text }) => `${showId(fact)}: ${showKept(text)}`);
      const times = line.times.map(showSince);
      const calls = `${WORDS.earlierCalls}: ${line.earlierCalls}`;
      return [line.procedures.map(showId).join(', '), ...times, calls, ...facts].join('; ');
    }
    case 'broke':
      return quoted(line.sent);
    case 'cut-off':
      return WORDS.endings[line.how];
  }
}

function corrected(correction: 'mis-keyed' | 'taken-back' | null): string {
  return correction === null ? '' : ` (${WORDS.corrections[correction]})`;
}

export function showFindings(zone: string): (stands: FindingStands) => readonly string[] {
  return ({ finding, value, takenBackTo, history }) => {
    const back = takenBackTo === null || value === null ? '' : `, ${WORDS.goesOn} ${showValue(value)}`;
    const now = value === null ? WORDS.unknown : showValue(takenBackTo ?? value);
    const head = takenBackTo === null ? now : `${WORDS.takenBack} ${now}`;
    return [`${showId(finding)}: ${head}${back}`, ...history.map((one) => `  ${changeText(one, zone)}`)];
  };
}

function changeText(change: FindingChange, zone: string): string {
  const when = showTime(change.at, zone);
  switch (change.kind) {
    case 'settled': {
      const by = change.question === null ? '' : ` [${showId(change.question)}]`;
      return `${when}  ${showValue(change.value)}, ${WORDS.how[change.how]}${by}`;
    }
    case 'taken-back':
      return `${when}  ${WORDS.takenBack} ${showValue(change.now)}`;
    case 'withdrawn':
      return `${when}  ${WORDS.withdrawn}`;
  }
}

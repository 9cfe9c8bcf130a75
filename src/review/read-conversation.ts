/** Reads what was asked, answered, volunteered and noted, in the order in which it happened. */
import type { Recorded, RecordedOf } from '../call/recorded.ts';
import { ERASED, kept, written } from './kept.ts';
import type { ConversationLine, Kept } from './view.ts';

export function readConversation(events: readonly Recorded[]): readonly ConversationLine[] {
  return events.flatMap((event) => lineOf(event) ?? []);
}

/** Null for what is no part of the conversation: decisions have places of their own. */
function lineOf(event: Recorded): ConversationLine | null {
  const when = written(event);
  switch (event.type) {
    case 'opening-heard':
      return { ...when, kind: 'opening', text: kept(event, event.sealed?.text) };
    case 'question-put':
      return { ...when, kind: 'asked', ...event.open };
    case 'answered':
      return {
        ...when,
        kind: 'answered',
        question: event.open.question,
        value: event.open.value,
        correction: event.open.correction,
      };
    case 'heard':
      return {
        ...when,
        kind: 'heard',
        question: event.open.question,
        how: event.open.how,
        taken: event.open.taken,
        text: kept(event, event.sealed?.text),
      };
    case 'fact-written':
      return {
        ...when,
        kind: 'written',
        question: event.open.question,
        text: kept(event, event.sealed?.text),
      };
    case 'volunteered':
      return { ...when, kind: 'volunteered', ...event.open, words: kept(event, event.sealed?.words) };
    case 'reopened':
      return { ...when, kind: 'reopened', question: event.open.question };
    case 'identified':
      return {
        ...when,
        kind: 'identified',
        procedures: event.open.procedures,
        times: event.open.times,
        earlierCalls: event.open.earlierCalls.length,
        facts: factsOf(event),
      };
    case 'noted':
      return { ...when, kind: 'noted', text: kept(event, event.sealed?.text) };
    case 'broke':
      return { ...when, kind: 'broke', sent: kept(event, event.sealed?.sent) };
    case 'cut-off':
      return { ...when, kind: 'cut-off', how: event.open.how };
    case 'call-started':
    case 'finding-settled':
    case 'finding-withdrawn':
    case 'finding-taken-back':
    case 'assessed':
    case 'told':
    case 'raised':
    case 'lowering-asked':
    case 'lowered':
    case 'accepted':
    case 'handover-written':
    case 'promised':
    case 'attempted':
    case 'paging-moved':
    case 'promise-kept':
    case 'closed':
      return null;
  }
}

/** Of an erased record not even the kinds of facts are known. */
function factsOf(event: RecordedOf<'identified'>): readonly { readonly fact: string; readonly text: Kept }[] {
  if (event.erased) return [{ fact: 'record', text: ERASED }];
  return Object.entries(event.sealed ?? {}).map(([fact, said]) => ({ fact, text: kept(event, said) }));
}

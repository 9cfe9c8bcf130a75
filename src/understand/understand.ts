/** What a caller's words establish: findings with values, whether there is danger, and what must be read back first. */
import {
  UNSURE,
  type FindingId,
  type FindingSpec,
  type FindingValue,
  type Vocabulary,
} from '../clinical/finding.ts';
import { answersOf, type Asking } from './answer.ts';
import { withoutEchoes } from './echoes.ts';
import { foldWords } from './fold-words.ts';
import type { Lexicon } from './lexicon.ts';
import { prepare } from './prepare.ts';
import { isDanger, needsReadBack } from './read-aloud-policy.ts';
import { readWords } from './read-words.ts';
import { isEcho, placeReplies, positionsOf, readReply } from './reply.ts';
import { settleAll, type Settled } from './settle.ts';
import { respell } from './spelling.ts';

export interface Utterance {
  readonly text: string;
  /** The finding or the group of findings that was asked; null for words that nobody asked for. */
  readonly asked: FindingId | readonly FindingId[] | null;
  readonly procedure: string | null;
  /** Whole days since surgery; null when not known. */
  readonly day: number | null;
  /** The hour on the caller's clock; null when not known: then what is said by the clock says nothing. */
  readonly hour: number | null;
  /** 0 to 1, as the recogniser gives it; 1 for what was typed or keyed. */
  readonly confidence: number;
}

export interface Because {
  readonly finding: FindingId;
  readonly value: FindingValue;
  /** The caller's own words. */
  readonly words: string;
  /** What decided that they count as they do; empty when nothing turned them. */
  readonly scope: readonly string[];
}

export interface Understood {
  readonly findings: Readonly<Record<FindingId, FindingValue>>;
  readonly danger: boolean;
  /** Findings whose answer must be read back before it counts, and dangers said to have passed without a time. */
  readonly confirm: readonly FindingId[];
  /** False: nothing in it was understood, and the question is put again. */
  readonly understood: boolean;
  readonly because: readonly Because[];
}

/** Longer words are read at both ends: what opens a statement and what it came to. */
const MOST = 4000;
const EACH_END = 2000;

export function understand(lexicon: Lexicon, vocabulary: Vocabulary, utterance: Utterance): Understood {
  const text = cut(utterance.text);
  const prepared = prepare(lexicon);
  const words = respell(prepared.spelling, foldWords(text));
  const asked = askedOf(utterance, vocabulary);
  const replies = placeReplies(prepared.replies, words);
  const reply = readReply(replies, words);
  const all = readWords({
    prepared,
    vocabulary,
    words,
    text,
    asked: asked.map(({ id }) => id),
    procedure: utterance.procedure,
    moment: utterance,
    replies,
  });
  const heard = isEcho(words, reply)
    ? all.filter(({ finding }) => !asked.some(({ id }) => id === finding))
    : all;
  const asking: Asking = { asked, isGroup: Array.isArray(utterance.asked), heard, day: utterance.day, words };
  const answered = answersOf(asking, reply);
  const settled = withoutEchoes(
    settleAll(vocabulary, [...heard, ...answered.candidates], positionsOf(replies, 'correction')),
  );
  const confirm = confirmed(settled, utterance.confidence);
  const findings = Object.fromEntries(
    settled.flatMap(({ id, value }) => (value === null ? [] : [[id, value]])),
  );
  return {
    findings,
    danger: settled.some(
      ({ spec, value }) => isDanger(spec) && value === 'yes' && !isOnlyABlur(spec, findings),
    ),
    confirm: [...new Set([...confirm, ...answered.confirm])],
    understood: answered.understood || Object.keys(findings).length > 0 || confirm.length > 0,
    because: settled.flatMap(({ id, value, behind }) =>
      behind.map((one) => ({
        finding: id,
        value: value ?? UNSURE,
        words: text.slice(words[one.start]?.from ?? 0, words[one.end - 1]?.to ?? 0),
        scope: one.because,
      })),
    ),
  };
}

/** A blur that goes on blinking is no loss of sight. */
function isOnlyABlur({ id }: FindingSpec, findings: Readonly<Record<FindingId, FindingValue>>): boolean {
  return id === 'vision-change' && findings['blur-clears-on-blinking'] === 'yes';
}

function cut(text: string): string {
  return text.length <= MOST ? text : `${text.slice(0, EACH_END)} . ${text.slice(-EACH_END)}`;
}

function askedOf({ asked }: Utterance, vocabulary: Vocabulary): readonly FindingSpec[] {
  const ids = asked === null ? [] : typeof asked === 'string' ? [asked] : asked;
  return ids.flatMap((id) => vocabulary.findings[id] ?? []);
}

function confirmed(settled: readonly Settled[], confidence: number): readonly FindingId[] {
  return settled.flatMap(({ id, spec, value, hedged, contradicted }) => {
    if (value === null) return [id];
    return needsReadBack(spec, { value, hedged, contradicted }, confidence) ? [id] : [];
  });
}

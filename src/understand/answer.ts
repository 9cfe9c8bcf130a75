/** Turns a bare answer into the asked finding's value, beside what the words say by themselves. */
import { UNSURE, type FindingId, type FindingSpec, type FindingValue } from '../clinical/finding.ts';
import type { Word } from './fold-words.ts';
import type { Candidate } from './gather.ts';
import { isRedFlagQuestion, isReassuring } from './read-aloud-policy.ts';
import type { Reply } from './reply.ts';

export interface Asking {
  readonly asked: readonly FindingSpec[];
  readonly isGroup: boolean;
  /** What the words say by themselves. */
  readonly heard: readonly Candidate[];
  readonly day: number | null;
  readonly words: readonly Word[];
}

export interface Answers {
  readonly candidates: readonly Candidate[];
  readonly confirm: readonly FindingId[];
  readonly understood: boolean;
}

const SINCE: ReadonlySet<FindingId> = new Set(['hours-since-urine', 'days-since-bowels']);
const EVERYDAY = 'everyday-questions';
const NOTHING: Answers = { candidates: [], confirm: [], understood: false };

export function answersOf(asking: Asking, reply: Reply): Answers {
  const { asked, isGroup, heard } = asking;
  const [only] = asked;
  if (only === undefined) return NOTHING;
  if (isGroup && asked.length > 1) return groupAnswers(asking, reply);
  return oneAnswer(
    only,
    heard.filter(({ finding }) => finding === only.id),
    { asking, reply },
  );
}

/** Only a plain no of the whole group settles it; anything else opens it one by one. */
function groupAnswers({ asked, heard, words }: Asking, reply: Reply): Answers {
  const named = new Set(heard.map(({ finding }) => finding));
  const worrying = heard.some(
    (one) =>
      one.sort !== 'denied' &&
      asked.some((spec) => spec.id === one.finding && !isReassuring(spec, one.value)),
  );
  const isPlain = reply.says === 'no' && !reply.hedged && !worrying;
  // "No chest pain" denies that one; "no, none of them" all.
  const isWhole = reply.wholeGroup || !asked.some(({ id }) => named.has(id));
  if (!isPlain || !isWhole) {
    // "A bit", "not really" and "yes" open a group: each of it is left open unless it was named.
    const opens = reply.says !== 'nothing' && !asked.some(({ id }) => named.has(id)) && !worrying;
    const open = opens ? asked.map((spec) => answer(spec, UNSURE, { reply, words })) : [];
    return { candidates: open, confirm: [], understood: reply.says !== 'nothing' };
  }
  const rest = asked.filter(({ id }) => !named.has(id));
  return {
    candidates: rest.map((spec) => answer(spec, spec.normal, { reply, words })),
    confirm: [],
    understood: true,
  };
}

interface Answering {
  readonly asking: Asking;
  readonly reply: Reply;
}

function oneAnswer(spec: FindingSpec, own: readonly Candidate[], { asking, reply }: Answering): Answers {
  const { words, heard } = asking;
  const value = saidValue(spec, reply);
  const worst = own.find(({ sort, value: said }) => sort === 'stated' && !isReassuring(spec, said));
  const calm = own.some(
    ({ sort, value: said }) => sort === 'denied' || (sort === 'stated' && isReassuring(spec, said)),
  );
  // Words that name the finding say more than the yes or no before them.
  if (reply.corrected && value !== null && worst === undefined && spec.kind === 'yes-no') {
    return { candidates: [answer(spec, value, { reply, words })], confirm: [], understood: true };
  }
  if (worst !== undefined) return { candidates: [], confirm: [], understood: true };
  if (calm && value !== null && !isReassuring(spec, value) && value !== UNSURE && spec.worse !== 'neither') {
    return {
      candidates: [answer(spec, UNSURE, { reply, words })],
      confirm: confirmOf(spec),
      understood: true,
    };
  }
  if (own.length > 0)
    return { candidates: [], confirm: reply.hedged ? hedgedConfirm(spec) : [], understood: true };
  if (value === null) return { ...NOTHING, understood: reply.says !== 'nothing' };
  // Danger instead of an answer about driving: what was asked does not matter now.
  if (spec.group === EVERYDAY && heard.some(({ sort }) => sort === 'stated')) return NOTHING;
  const confirm = reply.says === 'both' ? confirmOf(spec) : [];
  return { candidates: [answer(spec, value, { reply, words })], confirm, understood: true };
}

/** Null: the answer says nothing about this kind of finding and is asked again. */
function saidValue(spec: FindingSpec, { says, hedged }: Reply): FindingValue | null {
  switch (says) {
    case 'nothing':
      return null;
    case 'unsure':
    case 'both':
      return UNSURE;
    case 'yes':
    case 'no':
      if (spec.kind === 'yes-no') return hedged && spec.worse === 'no' && says === 'yes' ? UNSURE : says;
      if (spec.kind === 'choice' && says === 'no') return spec.normal;
      // "None" of something that is counted; a time since is no count.
      if (spec.min === 0 && says === 'no' && !SINCE.has(spec.id)) return 0;
      return null;
  }
}

function confirmOf(spec: FindingSpec): readonly FindingId[] {
  return isRedFlagQuestion(spec) ? [spec.id] : [];
}

function hedgedConfirm(spec: FindingSpec): readonly FindingId[] {
  return confirmOf(spec);
}

interface Said {
  readonly reply: Reply;
  readonly words: readonly Word[];
}

function answer(spec: FindingSpec, value: FindingValue, { reply, words }: Said): Candidate {
  const sort = value === UNSURE ? 'unsure' : isReassuring(spec, value) ? 'denied' : 'stated';
  const rank = typeof value === 'string' ? spec.values.indexOf(value) : 0;
  return {
    finding: spec.id,
    value,
    sort,
    rank,
    hedged: reply.hedged,
    start: reply.corrected ? words.length : 0,
    end: words.length,
    because: reply.because,
    says: '',
  };
}

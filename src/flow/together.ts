/**
 * Questions that ask for several others at once, for calls that would otherwise grow beyond what a call may take: "no"
 * settles all that they stand for, anything else leaves each of those questions to be put in its own words.
 */
import { conditionHolds } from '../clinical/condition.ts';
import type { Findings } from '../clinical/finding.ts';
import { holdsAt, hull, LAST_DAY, type TimeSince } from '../clinical/window.ts';
import type { Question } from './compiled.ts';
import type { WordsFile } from './schema.ts';

type Words = NonNullable<WordsFile['together']>;

/** More words than this are not taken in by ear; more questions than fit are put together in two. */
const MOST_WORDS = 25;
const LAST_HOUR = 72;

/** For each set of questions that can be due at one moment in one tier, the question that stands for all of them. */
export function togetherQuestions(questions: readonly Question[], words: Words): readonly Question[] {
  const made = (['likely', 'day-danger'] as const).flatMap((tier) => {
    const members = questions.filter((one) => one.tier === tier && isMentioned(one, words));
    return dueSets(members).flatMap((set) => packed(set, words));
  });
  const byId = new Map(made.map((question) => [question.id, question]));
  // The one that stands for most comes first, so that as few as possible are put.
  return [...byId.values()].toSorted((a, b) => (b.opens?.length ?? 0) - (a.opens?.length ?? 0));
}

/** Only what the word list has words for is asked together with others. */
function isMentioned(question: Question, { mentions }: Words): boolean {
  return (
    question.fact === null &&
    question.window.days[0] <= question.window.days[1] &&
    question.findings.every((id) => mentions[id] !== undefined)
  );
}

/** What is due at one moment, with nothing known and with each answer that some of it hangs on. */
function dueSets(members: readonly Question[]): readonly (readonly Question[])[] {
  const sets = new Map<string, readonly Question[]>();
  const add = (set: readonly Question[]): void => {
    if (set.length > 1) sets.set(set.map(({ id }) => id).join('+'), set);
  };
  const scenarios = scenariosOf(members);
  for (const at of momentsOf(members)) {
    const now = members.filter(({ window }) => holdsAt(window, at));
    for (const scenario of scenarios) {
      add(now.filter((one) => isDueIn(one, scenario)));
    }
  }
  return [...sets.values()];
}

function isDueIn({ when, skipIf }: Question, scenario: Findings): boolean {
  if (skipIf !== null && conditionHolds(skipIf, scenario)) return false;
  return when === null || conditionHolds(when, scenario);
}

/** Nothing known, each answer that makes other questions due, and two such answers at once. */
function scenariosOf(members: readonly Question[]): readonly Findings[] {
  const single = new Map<string, Findings>();
  for (const row of members.flatMap(({ when, skipIf }) => [...(when ?? []), ...(skipIf ?? [])])) {
    const known = Object.fromEntries(
      row.map((test) => [
        test.finding,
        'in' in test ? (test.in[0] ?? '') : 'atLeast' in test ? test.atLeast : test.atMost,
      ]),
    );
    const due = members.map((one) => (isDueIn(one, known) ? '1' : '0')).join('');
    if (!single.has(due)) single.set(due, known);
  }
  const each = [...single.values()];
  const both = each.flatMap((a, at) => each.slice(at + 1).map((b) => ({ ...a, ...b })));
  return [{}, ...each, ...both];
}

/** Every moment at which a window begins, in days and in hours; unknown hours are a moment too. */
function momentsOf(members: readonly Question[]): readonly TimeSince[] {
  const days = startsOf(
    members.map(({ window }) => window.days),
    LAST_DAY,
  );
  const hours = startsOf(
    members.flatMap(({ window }) => (window.hours === null ? [] : [window.hours])),
    LAST_HOUR,
  );
  return days.flatMap((day) => [null, ...hours].map((hour) => ({ day, hours: hour })));
}

function startsOf(spans: readonly (readonly [number, number])[], last: number): readonly number[] {
  const starts = spans.flatMap(([from, to]) => [from, to + 1]).filter((start) => start <= last);
  return [...new Set(spans.length === 0 ? [] : [0, ...starts])];
}

/** As many as can be said in one breath; a question that would stand alone is put by itself. */
function packed(set: readonly Question[], words: Words): readonly Question[] {
  const packs: Question[][] = [];
  for (const question of set) {
    const last = packs.at(-1);
    if (last !== undefined && countWords(wordsFor([...last, question], words)) <= MOST_WORDS) {
      last.push(question);
    } else packs.push([question]);
  }
  return packs.flatMap((pack) => togetherOf(pack, words) ?? []);
}

function togetherOf(members: readonly Question[], words: Words): Question | null {
  const [first, second] = members;
  if (first === undefined || second === undefined) return null;
  const said = wordsFor(members, words);
  return {
    id: members.map(({ id }) => id).join('+'),
    topic: first.topic,
    tier: first.tier,
    kind: 'group',
    findings: [...new Set(members.flatMap(({ findings }) => findings))],
    fact: null,
    words: said,
    spoken: said,
    why: words.why,
    unsureMeans: words.unsure,
    answers: [
      { value: 'no', label: words.answers.no },
      { value: 'yes', label: words.answers.yes },
      { value: 'unsure', label: words.answers.unsure },
    ],
    // That each of them is due decides whether it is put.
    window: members.map(({ window }) => window).reduce(hull),
    when: null,
    skipIf: null,
    opens: members.map(({ id }) => id),
  };
}

/** "Any fresh blood? Growing bruise?": what is mentioned in the same words is mentioned once. */
function wordsFor(members: readonly Question[], { start, mentions }: Words): string {
  const findings = members.flatMap(({ findings: own }) => own);
  const [first = '', ...others] = new Set(findings.map((id) => mentions[id] ?? id));
  return [`${start} ${first}?`, ...others.map((mention) => `${capital(mention)}?`)].join(' ');
}

function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

function countWords(text: string): number {
  return text.split(/\s+/).length;
}

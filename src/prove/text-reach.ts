/** Which advice texts no call ever hears: aftercare by day, what is usual, and the signs of the safety-net. */
import { holdsAt, windowText, type TimeSince } from '../clinical/window.ts';
import { aftercareNow, normalNow, safetyNet } from '../call/advice.ts';
import { emptyContext, type CallContext } from '../call/context.ts';
import type { Standing } from '../call/step.ts';
import type { DayText } from '../flow/compiled.ts';
import { freshCircumstances } from '../call/circumstances.ts';
import type { Findings } from '../clinical/finding.ts';
import { findingsOf, type Assignment } from './domain.ts';
import { waysToFulfil } from './side.ts';
import type { Subject } from './subject.ts';
import { anyRowHolds, type Row, type Tables } from './tables.ts';
import type { TimeClass } from './times.ts';

export function deadTexts(subject: Subject): readonly string[] {
  const { flow, classes } = subject;
  const plain = classes.map(({ at }) => standingAt(subject, at, {}));
  const aftercare = new Set(plain.flatMap((standing) => aftercareNow(flow, standing).map(({ say }) => say)));
  const normal = new Set(classes.flatMap(({ at }) => normalNow(flow, at)));
  return [
    ...flow.aftercare
      .filter(({ say }) => !aftercare.has(say))
      .map(({ kind, window }) => `The aftercare on ${kind} for ${windowText(window)} is never said.`),
    ...flow.normal
      .filter(({ say }) => !normal.has(say))
      .map(({ window }) => `What is usual on ${windowText(window)} is never said.`),
    ...deadSigns(subject).map(
      ({ topic, window }) => `A sign of ${topic} for ${windowText(window)} is never said.`,
    ),
  ];
}

/** Signs of topics in which something was said come first, so a sign is tried after answers that speak of its topic. */
function deadSigns(subject: Subject): readonly DayText[] {
  const silent = new Set(subject.flow.safetyNet);
  const classes = signClasses(subject);
  for (const { answers, topics } of openingsOf(subject)) {
    for (const { at } of classes) {
      const wanted = [...silent].filter(
        ({ topic, window }) => (topics.size === 0 || topics.has(topic)) && holdsAt(window, at),
      );
      if (wanted.length === 0) continue;
      const text = safetyNet(subject.flow, standingAt(subject, at, answers));
      for (const sign of wanted) if (text.includes(sign.say)) silent.delete(sign);
    }
  }
  return [...silent];
}

/** Answers to begin with, and the topics in which they say something. */
interface Opening {
  readonly answers: Findings;
  readonly topics: ReadonlySet<string>;
}

/** One opening for each set of topics that a single row of some rule speaks of, and the opening that says nothing. */
function openingsOf({ domain, tables, moments }: Subject): readonly Opening[] {
  const openings = new Map<string, Opening>([['', { answers: {}, topics: new Set() }]]);
  const [moment] = moments;
  if (moment === undefined) return [...openings.values()];
  for (const { rows } of tables.rules) {
    for (const row of rows) {
      const [given] = waysToFulfil({ moment, held: null }, row);
      if (given === undefined) continue;
      const topics = topicsOf(tables, row, given);
      const key = [...topics].join();
      if (!openings.has(key)) openings.set(key, { answers: findingsOf(domain, given), topics });
    }
  }
  return [...openings.values()].toSorted((a, b) => a.topics.size - b.topics.size);
}

/** The topics of the rules that hold for what one row asks, in the flow's order. */
function topicsOf({ rules, rulesOf, always }: Tables, row: Row, given: Assignment): ReadonlySet<string> {
  const tried = new Set([...always, ...row.flatMap(({ finding }) => rulesOf[finding] ?? [])]);
  return new Set(
    [...tried]
      .sort((a, b) => a - b)
      .flatMap((at) => {
        const one = rules[at];
        return one !== undefined && anyRowHolds(one.rows, given) ? [one.rule.topic] : [];
      }),
  );
}

/** One class for each set of signs that the day has. */
function signClasses({ flow, classes }: Subject): readonly TimeClass[] {
  const bySigns = new Map<string, TimeClass>();
  for (const one of classes) {
    const signs = flow.safetyNet.map(({ window }) => (holdsAt(window, one.at) ? '1' : '0')).join('');
    if (!bySigns.has(signs)) bySigns.set(signs, one);
  }
  return [...bySigns.values()];
}

/** The words hang on what is known and on the day; what the answers come to plays no part in these. */
function standingAt({ flow, deciders }: Subject, at: TimeSince, answers: Findings): Standing {
  const held = Object.entries(answers).map(([id, value]): [string, CallContext['held'][string]] => [
    id,
    { value, how: 'volunteered', question: null, takenBackTo: null },
  ]);
  const context: CallContext = { ...emptyContext(), times: [at], held: Object.fromEntries(held) };
  const assessment = deciders.assess(flow, freshCircumstances(at), {});
  return { at: 'outcome', question: null, again: false, assessment, context };
}

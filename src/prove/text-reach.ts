/** Which advice texts no call ever hears: aftercare by day, what is usual, and the signs of the safety-net. */
import { holdsAt, windowText, type TimeSince } from '../clinical/window.ts';
import { aftercareNow, normalNow, safetyNet } from '../call/advice.ts';
import { emptyContext, type CallContext } from '../call/context.ts';
import type { Standing } from '../call/step.ts';
import type { DayText } from '../flow/compiled.ts';
import { freshCircumstances } from '../call/circumstances.ts';
import { findingsOf } from './domain.ts';
import { waysToFulfil } from './side.ts';
import type { Subject } from './subject.ts';

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
    ...flow.safetyNet
      .filter((sign) => !isSignSaid(subject, sign))
      .map(({ topic, window }) => `A sign of ${topic} for ${windowText(window)} is never said.`),
  ];
}

/** Signs of topics in which something was said come first, so each is tried with an answer of its own topic. */
function isSignSaid(subject: Subject, sign: DayText): boolean {
  const { flow, classes, tables, moments } = subject;
  const days = classes.filter(({ at }) => holdsAt(sign.window, at));
  const [moment] = moments;
  if (moment === undefined) return false;
  const said = (answers: Readonly<Record<string, string | number>>): boolean =>
    days.some(({ at }) => safetyNet(flow, standingAt(subject, at, answers)).includes(sign.say));
  if (said({})) return true;
  return tables.rules
    .filter(({ rule }) => rule.topic === sign.topic)
    .some(({ rows }) =>
      rows.some((row) => {
        const [given] = waysToFulfil({ moment, held: null }, row);
        return given !== undefined && said({ ...findingsOf(subject.domain, given) });
      }),
    );
}

function standingAt(
  { flow, deciders }: Subject,
  at: TimeSince,
  answers: Readonly<Record<string, string | number>>,
): Standing {
  const held = Object.entries(answers).map(([id, value]): [string, CallContext['held'][string]] => [
    id,
    { value, how: 'volunteered', question: null, takenBackTo: null },
  ]);
  const context: CallContext = { ...emptyContext(), times: [at], held: Object.fromEntries(held) };
  const assessment = deciders.assess(flow, freshCircumstances(at), answers);
  return { at: 'outcome', question: null, again: false, assessment, context };
}

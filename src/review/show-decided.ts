/** What was decided, told and promised, as lines of text. */
import { plainText, quoted, showActor, showId, showKept, showOutcome, showTime } from './show-parts.ts';
import type { Decision, OutcomeMove, PromiseLine, TellingLine } from './view.ts';
import { WORDS } from './words.ts';

export function showMove(zone: string): (move: OutcomeMove) => readonly string[] {
  return ({ at, outcome, points, redFlags, reasons }) => {
    const counted = Object.entries(points).map(([concern, n]) => `${showId(concern)} ${n}`);
    return [
      `${showTime(at, zone)}  ${showOutcome(outcome)}`,
      ...(redFlags.length === 0 ? [] : [`  ${WORDS.redFlags}: ${redFlags.map(showId).join(', ')}`]),
      ...(counted.length === 0 ? [] : [`  ${WORDS.points}: ${counted.join(', ')}`]),
      ...reasons.map((reason) => {
        const scored = reason.points === 0 ? '' : ` (${reason.points})`;
        return `  ${WORDS.because}: ${plainText(reason.text)}${scored} [${plainText(reason.source)}]`;
      }),
    ];
  };
}

export function showTold(zone: string): (told: TellingLine) => readonly string[] {
  return ({ at, by, outcome, words }) => [
    `${showTime(at, zone)}  ${showActor(by)}  ${showOutcome(outcome)}`,
    ...words.map((sentence) => `  ${plainText(sentence)}`),
  ];
}

export function showDecision(zone: string): (decision: Decision) => readonly string[] {
  return (decision) => {
    const when = `${showTime(decision.at, zone)}  ${showActor(decision.by)}`;
    const what = `${when}  ${WORDS.decisions[decision.kind]} ${showOutcome(decision.to)}`;
    switch (decision.kind) {
      case 'raised':
      case 'lowering-asked':
        return [what, `  ${WORDS.because}: ${quoted(decision.why)}`];
      case 'lowered': {
        const spoke = decision.spokeToPatient ? WORDS.spoke.yes : WORDS.spoke.no;
        const who = `  ${WORDS.by} ${showKept(decision.clinician)}, ${spoke}`;
        return [what, who, `  ${WORDS.because}: ${quoted(decision.why)}`];
      }
      case 'accepted':
        return [
          what,
          `  ${WORDS.by} ${showKept(decision.clinician)}${decision.reported ? WORDS.reported : ''}`,
        ];
    }
  };
}

export function showPromise(zone: string): (line: PromiseLine) => string {
  return ({ kind, to, openedAt, dueAt, owner, state }) => {
    const due = dueAt === null ? WORDS.unknown : showTime(dueAt, zone);
    const what = `${showTime(openedAt, zone)}  ${WORDS.promises[kind]}, ${showOutcome(to)}`;
    return `${what}; ${WORDS.due} ${due}; ${WORDS.owner} ${plainText(owner)}; ${WORDS.promiseStates[state]}`;
  };
}

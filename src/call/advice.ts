/** The words that belong to an outcome: what the caller is told, the aftercare of the day, and one safety-net. */
import { conditionHolds } from '../clinical/condition.ts';
import { holdsAt, windowText, type TimeSince } from '../clinical/window.ts';
import type { AftercareKind, Flow } from '../flow/compiled.ts';
import { AFTERCARE_KINDS } from '../flow/compiled.ts';
import type { Standing } from './step.ts';
import { findingsOf } from './standing.ts';

const SIGNS_AT_MOST = 5;
const WORDS_AT_MOST = 120;

/** Everyday questions and the part of the aftercare plan that answers each. */
const ASKED_FOR: Readonly<Record<string, AftercareKind>> = {
  'asks-driving': 'driving',
  'asks-washing': 'washing',
  'asks-exercise': 'exercise',
  'asks-work': 'work',
  'asks-flying': 'flying',
  'asks-support-garment': 'support-garment',
  'asks-scar-care': 'scar-care',
  'asks-stitches-or-tape': 'dressing',
  'asks-next-visit': 'visits',
  'asks-medicines': 'medicines',
  'asks-sleeping-position': 'sleeping-position',
};

export interface AdviceItem {
  readonly kind: AftercareKind;
  readonly say: string;
  readonly days: string;
  readonly source: string;
  /** The caller asked for it. */
  readonly asked: boolean;
}

/** The aftercare that holds now; what the caller asked for stands first. With an unknown day nothing is allowed. */
export function aftercareNow(flow: Flow, standing: Standing): readonly AdviceItem[] {
  const findings = findingsOf(standing.context);
  const wanted = new Set(
    Object.entries(ASKED_FOR).flatMap(([id, kind]) => (findings[id] === 'yes' ? [kind] : [])),
  );
  const [time] = standing.context.times;
  if (time === undefined || time.day === null) return [];
  const items = AFTERCARE_KINDS.flatMap((kind) =>
    flow.aftercare
      .filter((one) => one.kind === kind && isAllowedAt(one.window, time))
      .map(({ say, window, source }) => ({
        kind,
        say,
        days: windowText(window),
        source,
        asked: wanted.has(kind),
      })),
  );
  return items.toSorted((a, b) => Number(b.asked) - Number(a.asked));
}

/** Permissions that hang on hours are given only when the hours are known; the earlier, stricter text counts then. */
function isAllowedAt(window: Parameters<typeof holdsAt>[0], time: TimeSince): boolean {
  if (window.hours !== null && time.hours === null) {
    return window.hours[0] === 0 && holdsAt(window, time);
  }
  return holdsAt(window, time);
}

export function normalNow(flow: Flow, time: TimeSince): readonly string[] {
  return flow.normal.filter(({ window }) => holdsAt(window, time)).map(({ say }) => say);
}

/**
 * One safety-net for the whole call: that a telephone cannot be sure, three to five signs with a clock, and to ring
 * again. Signs of topics in which something was said stand first. At most 120 words.
 */
export function safetyNet(flow: Flow, standing: Standing): string {
  const [time] = standing.context.times;
  const topics = new Set(flow.safetyNet.map(({ topic }) => topic));
  const weights = new Map([...topics].map((topic) => [topic, weight(flow, standing, topic)]));
  const signs = flow.safetyNet
    .filter(({ window }) => time !== undefined && holdsAt(window, time))
    .map(({ topic, say }) => ({ say, weight: weights.get(topic) ?? 0 }))
    .toSorted((a, b) => b.weight - a.weight)
    .map(({ say }) => say);
  const chosen: string[] = [];
  for (const sign of new Set(signs)) {
    const text = [flow.words.safetyNetStart, ...chosen, sign, flow.words.safetyNetEnd].join(' ');
    if (chosen.length < SIGNS_AT_MOST && wordCount(text) <= WORDS_AT_MOST) chosen.push(sign);
  }
  return [flow.words.safetyNetStart, ...chosen, flow.words.safetyNetEnd].join(' ');
}

export function wordCount(text: string): number {
  return text.trim().split(/\s+/).length;
}

/** A topic in which something worrying was said weighs most, then the procedure's own signs. */
function weight(flow: Flow, standing: Standing, topic: string): number {
  const findings = findingsOf(standing.context);
  const said = flow.rules.some((rule) => rule.topic === topic && conditionHolds(rule.if, findings));
  if (said) return 2;
  return flow.procedures.includes(topic) ? 1 : 0;
}

/** The sentences that the caller is told with the outcome, in the order of speaking. */
export function outcomeWords(flow: Flow, standing: Standing): readonly string[] {
  const { outcome, untilSeen } = standing.assessment;
  const { words } = flow;
  const cutOff = standing.context.ending === 'cut-off' ? [words.outcome.cutOff] : [];
  switch (outcome.outcome) {
    case 'urgent-escalation':
      return outcome.emergency
        ? [words.emergency, words.outcome.emergency, ...untilSeen, words.emergency]
        : [words.outcome.urgent, ...untilSeen, ...cutOff];
    case 'arrange-review':
      return [reviewWords(flow, outcome.within), safetyNet(flow, standing), ...cutOff];
    case 'advise': {
      const asked = aftercareNow(flow, standing).filter((item) => item.asked);
      return [words.outcome.advise, ...asked.map(({ say }) => say), safetyNet(flow, standing)];
    }
  }
}

function reviewWords(flow: Flow, within: string): string {
  const review: Readonly<Record<string, string>> = flow.words.outcome.review;
  return review[within] ?? flow.words.outcome.review['same-day'];
}

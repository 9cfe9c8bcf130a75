/** The written summary for the clinician who takes over: SBAR order, urgency in the first sentence, at most 150 words. */
import { IMMEDIATE_DANGER, UNSURE } from '../clinical/finding.ts';
import { isUrgent } from '../clinical/outcome.ts';
import { news2, type Observations } from '../clinical/news2.ts';
import { dvtByTelephone, peByTelephone } from '../clinical/wells-by-telephone.ts';
import type { FactId, Flow } from '../flow/compiled.ts';
import type { HandoverWordId, HandoverWords } from '../flow/handover-words.ts';
import type { Operation, Patient } from '../people/patient.ts';
import { wordCount } from './advice.ts';
import { findingsOf } from './standing.ts';
import type { Standing } from './step.ts';

export interface HandoverPeople {
  readonly patient: Patient | null;
  readonly operation: Operation | null;
}

export interface Handover {
  readonly situation: string;
  readonly background: string;
  readonly assessment: string;
  readonly recommendation: string;
}

const WORDS_AT_MOST = 150;
const QUOTE_AT_LEAST = 12;
/** What was written down of one thing (where, allergies, last meal) is said in so many words at most. */
const NOTED_AT_MOST = 10;

/** The published structure is Situation, Background, Assessment, Recommendation. What is not known is said so. */
export function writeHandover(flow: Flow, standing: Standing, people: HandoverPeople): Handover {
  const whole: Handover = {
    situation: situation(flow, standing, people),
    background: background(flow, standing, people),
    assessment: assessmentText(flow, standing, { ...people, quote: Infinity }),
    recommendation: recommendation(flow, standing),
  };
  const over = wordCount(handoverText(whole)) - WORDS_AT_MOST;
  if (over <= 0) return whole;
  // The quote is what can be long; the danger answers behind it must not fall off the end.
  const quoted = wordCount(standing.context.opening ?? '');
  const quote = Math.max(QUOTE_AT_LEAST, quoted - over - 1);
  const shorter = { ...whole, assessment: assessmentText(flow, standing, { ...people, quote }) };
  const left = WORDS_AT_MOST - wordCount(handoverText({ ...shorter, assessment: '' }));
  return { ...shorter, assessment: firstWords(shorter.assessment, left) };
}

/** At most so many words, with three dots (which count as a word) where something is left out. */
function firstWords(text: string, most: number): string {
  const words = text.trim().split(/\s+/);
  return words.length <= most ? text.trim() : `${words.slice(0, Math.max(0, most - 1)).join(' ')} ...`;
}

export function handoverText(handover: Handover): string {
  return [
    `Situation: ${handover.situation}`,
    `Background: ${handover.background}`,
    `Assessment: ${handover.assessment}`,
    `Recommendation: ${handover.recommendation}`,
  ].join('\n');
}

function situation(flow: Flow, standing: Standing, { patient }: HandoverPeople): string {
  const { handover } = flow.words;
  const { about } = standing.assessment;
  const concern = flow.concerns.find(({ id }) => id === about);
  const parts = [
    handover[urgency(standing)],
    concern === undefined ? '' : filled(handover.possible, { concern: concern.title.toLowerCase() }),
    patient === null
      ? handover['not-identified']
      : filled(handover.patient, { name: `${patient.firstName} ${patient.surname}`, born: patient.born }),
    filled(handover['ring-back'], { number: noted(standing, 'call-back-number', handover['not-known']) }),
  ];
  return parts.filter((part) => part !== '').join(' ');
}

function urgency({ assessment: { outcome }, context }: Standing): HandoverWordId {
  if (outcome.emergency) return context.told?.emergency === true ? 'emergency-told' : 'emergency-untold';
  if (!isUrgent(outcome)) return 'review';
  return outcome.within === 'now' ? 'urgent-now' : 'urgent-within-the-hour';
}

function background(flow: Flow, standing: Standing, { patient, operation }: HandoverPeople): string {
  const { handover } = flow.words;
  const [time] = standing.context.times;
  const day =
    time === undefined || time.day === null
      ? handover['day-not-known']
      : filled(handover.day, { day: time.day });
  const hours =
    time === undefined || time.hours === null || time.hours > 72
      ? []
      : [filled(handover.hours, { hours: time.hours })];
  const recorded =
    patient === null ? handover['not-known'] : patient.allergies.join(', ') || handover['none-recorded'];
  const parts = [
    [flow.title, day, ...hours].join(', '),
    operation === null ? handover['record-not-seen'] : operationText(handover, operation),
    filled(handover.allergies, { allergies: noted(standing, 'allergies', recorded) }),
    filled(handover['blood-thinner'], { name: bloodThinner(handover, standing, operation) }),
    filled(handover['last-food-or-drink'], {
      last: noted(standing, 'last-food-drink', handover['not-asked']),
    }),
  ];
  return `${parts.join('; ')}.`;
}

/** The record's name for it beside what the caller says; an empty name is none prescribed. */
function bloodThinner(words: HandoverWords, standing: Standing, operation: Operation | null): string {
  const named = operation?.bloodThinner ?? null;
  const says = spoken(standing, 'blood-thinner') ?? words['not-known'];
  if (named === null) return says;
  if (named !== '') return firstWords(named, NOTED_AT_MOST);
  const isSaid = says === 'yes' || says === UNSURE;
  return isSaid ? filled(words['says-the-caller'], { value: says }) : words['none-recorded'];
}

function noted(standing: Standing, fact: FactId, unknown: string): string {
  return firstWords(standing.context.facts[fact] ?? unknown, NOTED_AT_MOST);
}

function operationText(words: HandoverWords, operation: Operation): string {
  const kept = [
    operation.side === null ? '' : operation.side,
    filled(words.surgeon, { surgeon: operation.surgeon }),
    operation.anaesthetic ?? words['anaesthetic-not-recorded'],
    ...(['implant', 'mesh', 'drain'] as const).flatMap((part) =>
      operation[part] === true ? [words[part]] : [],
    ),
  ];
  return kept.filter((part) => part !== '').join(', ');
}

function spoken(standing: Standing, id: string): string | null {
  const value = findingsOf(standing.context)[id];
  return value === undefined ? null : String(value);
}

interface Told extends HandoverPeople {
  /** How many of the caller's own words are quoted at most. */
  readonly quote: number;
}

function assessmentText(flow: Flow, standing: Standing, { operation, quote }: Told): string {
  const { context } = standing;
  const words = flow.words.handover;
  const findings = findingsOf(context);
  const specs = Object.values(flow.findings);
  const said = specs.filter((spec) => {
    const value = findings[spec.id];
    return value !== undefined && value !== spec.normal && value !== UNSURE && spec.worse !== 'neither';
  });
  const dangers = said.filter(({ group }) => group === IMMEDIATE_DANGER);
  const others = said.filter(({ group }) => group !== IMMEDIATE_DANGER);
  const unknown = specs.filter(({ id }) => findings[id] === UNSURE);
  const taken = Object.entries(context.held).filter(([, held]) => held.takenBackTo !== null);
  const parts = [
    context.opening === null ? '' : filled(words['own-words'], { words: firstWords(context.opening, quote) }),
    sentence(
      words.dangers,
      dangers.map(({ is }) => is),
    ),
    sentence(
      words.unknown,
      unknown.map(({ is }) => is),
    ),
    sentence(
      words.others,
      others.map((spec) => shown(spec.is, findings[spec.id], spec.unit)),
    ),
    sentence(
      words['taken-back'],
      taken.map(([id]) => flow.findings[id]?.is ?? id),
    ),
    newsText(words, standing),
    wellsText(flow, standing, operation),
  ];
  const text = parts.filter((part) => part !== '').join(' ');
  if (text !== '') return text;
  return context.ending === 'cut-off' ? words['nothing-broke-off'] : words.nothing;
}

function shown(is: string, value: unknown, unit: string | null): string {
  if (typeof value === 'number') return `${is} ${value}${unit === null ? '' : ` ${unit}`}`;
  return value === 'yes' ? is : `${is}: ${String(value)}`;
}

function sentence(words: string, items: readonly string[]): string {
  return items.length === 0 ? '' : filled(words, { list: items.join('; ') });
}

/** "NEWS2 at least N by telephone, missing ..."; nothing is said when nothing was measured. */
function newsText(words: HandoverWords, standing: Standing): string {
  const findings = findingsOf(standing.context);
  const score = news2(observationsOf(findings));
  const numbers = score.measured.filter((one) => one !== 'consciousness');
  if (numbers.length === 0) return '';
  const missing = score.missing.join(', ') || words['news2-nothing-missing'];
  return filled(words.news2, { points: score.atLeast, missing });
}

export function observationsOf(findings: Readonly<Record<string, unknown>>): Observations {
  const number = (id: string): number | null => {
    const value = findings[id];
    return typeof value === 'number' ? value : null;
  };
  const oxygen = findings['on-oxygen'];
  const confused = findings['new-confusion'] === 'yes' || findings['hard-to-wake'] === 'yes';
  const alert = findings['new-confusion'] === 'no' && findings['hard-to-wake'] === 'no';
  return {
    'respiratory-rate': number('respiratory-rate'),
    'oxygen-saturation': number('oxygen-saturation'),
    'on-oxygen': oxygen === 'yes' ? true : oxygen === 'no' ? false : null,
    'systolic-pressure': number('systolic-pressure'),
    'heart-rate': number('heart-rate'),
    consciousness: confused ? 'new-confusion' : alert ? 'alert' : null,
    temperature: number('temperature'),
  };
}

/** Wells by telephone, for the clinician only; said when a leg or the chest is what the call is about. */
function wellsText(flow: Flow, standing: Standing, operation: Operation | null): string {
  const findings = findingsOf(standing.context);
  const leg = ['one-leg-swollen', 'calf-pain'].some(
    (id) => flow.findings[id] !== undefined && findings[id] === 'yes',
  );
  const chest = ['breathless', 'chest-pain', 'coughing-blood'].some((id) => findings[id] === 'yes');
  if (!leg && !chest) return '';
  const is = (id: string): boolean | null => {
    const value = findings[id];
    return value === 'yes' ? true : value === 'no' ? false : null;
  };
  const heartRate = findings['heart-rate'];
  const facts = {
    day: standing.context.times[0]?.day ?? null,
    anaesthetic: operation?.anaesthetic ?? null,
    bedFor3Days: is('bed-for-3-days'),
    activeCancer: is('active-cancer'),
    previousClot: is('previous-clot'),
    // Pain in the calf on the telephone is not tenderness felt along the vein by a hand.
    deepVeinTenderness: null,
  };
  const dvt = dvtByTelephone({
    ...facts,
    legInPlasterOrWeak: is('leg-in-plaster-or-weak'),
    wholeLegSwollen: is('whole-leg-swollen'),
    calf3cmLarger: is('calf-3cm-larger'),
    pittingOneLeg: is('pitting-one-leg'),
    legVeinsRaised: is('leg-veins-raised'),
  });
  const pe = peByTelephone({
    ...facts,
    oneLegSwollen: is('one-leg-swollen'),
    heartRate: typeof heartRate === 'number' ? heartRate : null,
    coughingBlood: is('coughing-blood'),
  });
  return filled(flow.words.handover.wells, { leg: dvt.atLeast, lung: pe.atLeast });
}

function recommendation(flow: Flow, standing: Standing): string {
  const { handover } = flow.words;
  const { assessment, context } = standing;
  const { outcome } = assessment;
  const parts = [
    outcome.emergency
      ? handover['ask-emergency']
      : isUrgent(outcome)
        ? handover['ask-urgent']
        : handover['ask-review'],
    filled(handover.where, {
      where: noted(standing, 'where-now', handover['not-known']),
      who: noted(standing, 'who-with-you', handover['not-known']),
    }),
    context.told === null ? handover['nothing-told'] : handover['told-until-seen'],
    handover['read-back'],
  ];
  return parts.join(' ');
}

/** What stands in braces; a name that is not given stays as it is. */
function filled(words: string, values: Readonly<Record<string, string | number>>): string {
  return words.replace(/\{([a-z]+)\}/g, (place, name: string) => String(values[name] ?? place));
}

/** What an edit of a flow changed, part by part, as a signer reads it: what stood there before and what stands there now. */
import { canonicalJson } from '../../basics/json.ts';
import type { Condition, FindingSpec, Test } from '../../clinical/finding.ts';
import { windowText, type Window } from '../../clinical/window.ts';
import type { Concern, Effect, Flow, Question, Rule, Threshold } from '../../flow/compiled.ts';
import { outcomeText } from '../phrases.ts';

export type Part =
  | 'flow'
  | 'question'
  | 'rule'
  | 'concern'
  | 'finding'
  | 'aftercare'
  | 'safety-net'
  | 'what is usual'
  | 'common words';

export interface Change {
  readonly part: Part;
  readonly id: string;
  /** Which of its fields; `whole` where the part was added or removed. */
  readonly what: string;
  /** Null: it was not there. */
  readonly before: string | null;
  readonly after: string | null;
}

export function changesOf(before: Flow, after: Flow): readonly Change[] {
  const parts: readonly (readonly Change[])[] = [
    fieldChanges('flow', 'flow', [flowFields(before), flowFields(after)]),
    itemChanges('question', [byId(before.questions), byId(after.questions)], questionFields),
    itemChanges('rule', [byId(before.rules), byId(after.rules)], ruleFields),
    itemChanges('concern', [byId(before.concerns), byId(after.concerns)], concernFields),
    itemChanges('finding', [before.findings, after.findings], findingFields),
    itemChanges('aftercare', [aftercareOf(before), aftercareOf(after)], textFields),
    itemChanges('safety-net', [textsOf(before.safetyNet), textsOf(after.safetyNet)], textFields),
    itemChanges('what is usual', [textsOf(before.normal), textsOf(after.normal)], textFields),
    fieldChanges('common words', 'words', [leaves(before.words), leaves(after.words)]),
  ];
  return parts.flat();
}

type Fields = Readonly<Record<string, string>>;
type Items<TItem> = Readonly<Record<string, TItem>>;
type Both<TValue> = readonly [TValue, TValue];

function byId<TItem extends { readonly id: string }>(items: readonly TItem[]): Items<TItem> {
  return Object.fromEntries(items.map((item) => [item.id, item]));
}

function itemChanges<TItem>(
  part: Part,
  [before, after]: Both<Items<TItem>>,
  fieldsOf: (item: TItem) => Fields,
): readonly Change[] {
  return [...new Set([...Object.keys(before), ...Object.keys(after)])].flatMap((id): readonly Change[] => {
    const was = before[id];
    const is = after[id];
    if (was !== undefined && is !== undefined) return fieldChanges(part, id, [fieldsOf(was), fieldsOf(is)]);
    const whole = (item: TItem | undefined): string | null =>
      item === undefined ? null : summary(fieldsOf(item));
    return [{ part, id, what: 'whole', before: whole(was), after: whole(is) }];
  });
}

function summary(fields: Fields): string {
  return Object.entries(fields)
    .filter(([, text]) => text !== '-')
    .map(([name, text]) => `${name}: ${text}`)
    .join('; ');
}

function fieldChanges(part: Part, id: string, [before, after]: Both<Fields>): readonly Change[] {
  return [...new Set([...Object.keys(before), ...Object.keys(after)])].flatMap((what) => {
    const was = before[what] ?? null;
    const is = after[what] ?? null;
    return was === is ? [] : [{ part, id, what, before: was, after: is }];
  });
}

function flowFields({ title, floor, procedures, surgeon }: Flow): Fields {
  return {
    title,
    procedures: procedures.join(', '),
    surgeon: surgeon ?? '-',
    'least outcome': floor === null ? '-' : outcomeText(floor),
  };
}

function questionFields(question: Question): Fields {
  const { window, when, skipIf, answers, unsureMeans, tier, findings, fact, words, spoken, why } = question;
  return {
    words,
    spoken,
    why,
    unsure: unsureMeans,
    days: windowText(window),
    asked: tier,
    settles: [...findings, ...(fact === null ? [] : [fact])].join(', '),
    'asked if': conditionText(when),
    'left out if': conditionText(skipIf),
    answers: answers.map(({ value, label }) => `${String(value)} = ${label}`).join('; ') || '-',
    topic: question.topic,
    opens: question.opens?.join(', ') ?? '-',
  };
}

function ruleFields({ if: condition, window, effect, because, source, topic }: Rule): Fields {
  return {
    if: conditionText(condition),
    days: windowText(window),
    'comes to': effectText(effect),
    concern: effect.concern ?? '-',
    ...(effect.kind === 'red-flag'
      ? {
          'until seen': effect.untilSeen.join(' '),
          'seen at': effect.seenAt ?? '-',
          'harmless outside': effect.harmlessOutside ?? '-',
        }
      : {}),
    because,
    source,
    topic,
  };
}

function effectText(effect: Effect): string {
  switch (effect.kind) {
    case 'points':
      return `${String(effect.points)} points`;
    case 'red-flag':
      return `red flag: ${outcomeText(effect.to)}`;
    case 'at-least':
      return `at least ${outcomeText(effect.to)}`;
  }
}

function concernFields({ title, clinicianNeeds, thresholds, because, source }: Concern): Fields {
  return {
    thresholds: thresholds.map(thresholdText).join('; ') || '-',
    title,
    'the clinician needs': clinicianNeeds,
    because,
    source,
  };
}

function thresholdText({ points, to, when }: Threshold): string {
  return `${String(points)} points: ${outcomeText(to)}${when === null ? '' : ` if ${conditionText(when)}`}`;
}

function findingFields(spec: FindingSpec): Fields {
  const { min, max, step, unit, values, order } = spec;
  return {
    is: spec.is,
    values:
      spec.kind === 'number'
        ? `${String(min)} to ${String(max)} in steps of ${String(step)}`
        : values.join(', '),
    unit: unit ?? '-',
    normal: String(spec.normal),
    worse: spec.worse,
    order: order === null ? '-' : order.map((chain) => chain.join(' < ')).join('; '),
    group: spec.group,
    optional: spec.optional ? 'yes' : 'no',
    'asked if': conditionText(spec.when),
    only: spec.only?.join(', ') ?? '-',
  };
}

interface Text {
  readonly window: Window;
  readonly say: string;
  readonly source?: string;
}

function textFields({ say, window, source }: Text): Fields {
  return { says: say, days: windowText(window), ...(source === undefined ? {} : { source }) };
}

function aftercareOf({ aftercare }: Flow): Items<Text> {
  return Object.fromEntries(
    aftercare.map((one) => [`${one.kind} of ${one.procedure} from day ${String(one.window.days[0])}`, one]),
  );
}

/** A text with the same topic and first day is the same text; several on one day are told apart by their place. */
function textsOf(texts: readonly (Text & { readonly topic: string })[]): Items<Text> {
  const named: Record<string, Text> = {};
  for (const text of texts) {
    const name = `${text.topic} from day ${String(text.window.days[0])}`;
    let place = 1;
    while (named[`${name}, ${String(place)}`] !== undefined) place += 1;
    named[`${name}, ${String(place)}`] = text;
  }
  return named;
}

function leaves(value: object, before = ''): Fields {
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, inner]: [string, unknown]): (readonly [string, string])[] => {
      const name = before === '' ? key : `${before}.${key}`;
      if (typeof inner === 'string') return [[name, inner]];
      if (typeof inner === 'object' && inner !== null && !Array.isArray(inner)) {
        return Object.entries(leaves(inner, name));
      }
      return [[name, canonicalJson(inner)]];
    }),
  );
}

function conditionText(condition: Condition | null): string {
  if (condition === null) return '-';
  return condition.map((row) => row.map(testText).join(' and ')).join(', or ');
}

function testText(test: Test): string {
  if ('in' in test) return `${test.finding} is ${test.in.map(String).join(' or ')}`;
  return 'atLeast' in test
    ? `${test.finding} is at least ${String(test.atLeast)}`
    : `${test.finding} is at most ${String(test.atMost)}`;
}

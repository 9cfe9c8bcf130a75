/** Says answers and conditions in the words of the script's own answers, for pictures and sheets. */
import { UNSURE, type Condition, type FindingValue, type Test } from '../../clinical/finding.ts';
import type { Outcome } from '../../clinical/outcome.ts';
import type { Effect, Flow } from '../../flow/compiled.ts';

/** `nipple colour: pale, dusky or black`, `temperature at least 38.5 degC`. */
function testWords(flow: Flow, test: Test): string {
  const name = test.finding.replaceAll('-', ' ');
  const unit = flow.findings[test.finding]?.unit ?? '';
  if ('atLeast' in test) return `${name} at least ${String(test.atLeast)} ${unit}`.trim();
  if ('atMost' in test) return `${name} at most ${String(test.atMost)} ${unit}`.trim();
  if (test.in.length === 1 && test.in[0] === 'yes') return name;
  return `${name}: ${orList(test.in.map(valueWords))}`;
}

function valueWords(value: FindingValue): string {
  return value === UNSURE ? 'not known' : String(value).replaceAll('-', ' ');
}

function orList(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} or ${words.at(-1) ?? ''}`;
}

/** The alternatives of a condition, each on its own. */
export function conditionWords(flow: Flow, condition: Condition): readonly string[] {
  return condition.map((row) => row.map((test) => testWords(flow, test)).join(' and '));
}

/** Only ever fulfilled by not knowing; the rules for that are the same in every script. */
export function isOnlyUnsure(condition: Condition): boolean {
  return condition.every((row) => row.some((test) => 'in' in test && test.in.every((one) => one === UNSURE)));
}

export function outcomeWords({ within, emergency, outcome }: Outcome): string {
  if (emergency) return 'Emergency number now';
  const when = {
    now: 'On-call clinician now',
    '1-hour': 'On-call clinician within the hour',
    'same-day': 'Seen the same day',
    'next-day': 'Seen the next day',
    'next-working-day': 'Seen the next clinic day',
    'planned-visit': 'A planned visit',
    none: 'Advice',
  }[within];
  return outcome === 'advise' ? 'Advice' : when;
}

export function effectWords(flow: Flow, effect: Effect): string {
  if (effect.kind !== 'points') return outcomeWords(effect.to);
  const concern = flow.concerns.find(({ id }) => id === effect.concern);
  return `+${String(effect.points)} ${concern?.title ?? effect.concern}`;
}

/** The union of the parts of several procedures of one operation: each question once, every rule kept. */
import { canonicalJson } from '../basics/json.ts';
import { hull } from '../clinical/window.ts';
import { TIERS, type DayText, type Question, type Rule, type Tier } from './compiled.ts';
import type { Parts } from './procedure-parts.ts';

export function merge(parts: readonly Parts[]): Parts {
  return {
    procedure: parts.map(({ procedure }) => procedure).join('+'),
    questions: mergeQuestions(parts.flatMap(({ questions }) => questions)),
    rules: mergeRules(parts),
    safetyNet: distinct(parts.flatMap(({ safetyNet }) => safetyNet)),
    normal: distinct(parts.flatMap(({ normal }) => normal)),
  };
}

/** The same question of two procedures is asked once, on the days of either, as early as either asks it. */
function mergeQuestions(questions: readonly Question[]): readonly Question[] {
  const byId = new Map<string, Question>();
  for (const question of questions) {
    const known = byId.get(question.id);
    byId.set(question.id, known === undefined ? question : together(known, question));
  }
  return [...byId.values()];
}

function together(a: Question, b: Question): Question {
  return {
    ...a,
    tier: sooner(a.tier, b.tier),
    findings: [...new Set([...a.findings, ...b.findings])],
    window: hull(a.window, b.window),
    when: a.when === null || b.when === null ? null : [...a.when, ...b.when],
    skipIf: canonicalJson(a.skipIf) === canonicalJson(b.skipIf) ? a.skipIf : null,
  };
}

/** A question that only something else points to is asked unprompted where the other procedure asks it so. */
function sooner(a: Tier, b: Tier): Tier {
  if (a === 'pointed' || b === 'pointed') return a === 'pointed' ? b : a;
  return TIERS.indexOf(a) <= TIERS.indexOf(b) ? a : b;
}

/**
 * The same rule stands once. Points that two procedures give for the same thing count once, as the higher of the two on
 * the days of either; anything else that differs stands once for each.
 */
function mergeRules(parts: readonly Parts[]): readonly Rule[] {
  const kept = new Map<string, Rule>();
  const texts = new Set<string>();
  for (const { procedure, rules } of parts) {
    for (const rule of rules) {
      const text = canonicalJson(rule);
      if (texts.has(text)) continue;
      texts.add(text);
      const known = kept.get(rule.id);
      const once = known === undefined ? rule : pointsOnce(known, rule);
      if (once !== null) kept.set(rule.id, once);
      else kept.set(`${rule.id}@${procedure}`, { ...rule, id: `${rule.id}@${procedure}` });
    }
  }
  return [...kept.values()];
}

function pointsOnce(a: Rule, b: Rule): Rule | null {
  if (a.effect.kind !== 'points' || b.effect.kind !== 'points') return null;
  if (a.effect.concern !== b.effect.concern || canonicalJson(a.if) !== canonicalJson(b.if)) return null;
  const points = Math.max(a.effect.points, b.effect.points);
  // A reason that one procedure gives for counting less does not hold for both.
  const because = a.because.length <= b.because.length ? a.because : b.because;
  return { ...a, because, window: hull(a.window, b.window), effect: { ...a.effect, points } };
}

function distinct(texts: readonly DayText[]): readonly DayText[] {
  return [...new Map(texts.map((text) => [canonicalJson(text), text])).values()];
}

/** Copies of a flow in which one thing is deliberately wrong. */
import { freezeFlow } from '../../src/flow/compile.ts';
import type { CompiledFlow, Flow, Question, Rule } from '../../src/flow/compiled.ts';

export function tampered({ flow }: CompiledFlow, change: (flow: Flow) => Partial<Flow>): CompiledFlow {
  return freezeFlow({ ...flow, ...change(flow) });
}

export function withoutRule(compiled: CompiledFlow, id: string): CompiledFlow {
  return changedRule(compiled, id, () => []);
}

/** Throws where there is no such rule, so that a test never tampers with nothing. */
export function changedRule(
  compiled: CompiledFlow,
  id: string,
  change: (rule: Rule) => readonly Rule[],
): CompiledFlow {
  if (!compiled.flow.rules.some((rule) => rule.id === id)) throw new Error(`There is no rule ${id}`);
  return tampered(compiled, ({ rules }) => ({
    rules: rules.flatMap((rule) => (rule.id === id ? change(rule) : [rule])),
  }));
}

export function withRule(compiled: CompiledFlow, rule: Rule): CompiledFlow {
  return tampered(compiled, ({ rules }) => ({ rules: [...rules, rule] }));
}

export function changedQuestion(
  compiled: CompiledFlow,
  id: string,
  change: (question: Question) => readonly Question[],
): CompiledFlow {
  if (!compiled.flow.questions.some((question) => question.id === id)) {
    throw new Error(`There is no question ${id}`);
  }
  return tampered(compiled, ({ questions }) => ({
    questions: questions.flatMap((question) => (question.id === id ? change(question) : [question])),
  }));
}

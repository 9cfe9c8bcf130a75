/** For the audit alone: which single answers would have led to another outcome, by the script that the call ran on. */
import { rank } from '../../clinical/outcome.ts';
import type { Loaded } from '../../call/load-call.ts';
import { assessmentOf } from '../../call/standing.ts';
import type { LogCallAnswer } from '../contract/log.ts';
import { labelOf, optionsOf } from './values.ts';

/** Numbers are left out: there is no telling which other one might have been measured. */
export function wouldHaveChanged({ runner, snapshot }: Loaded): LogCallAnswer['wouldHaveChanged'] {
  const { flow } = runner.compiled;
  const { context } = snapshot;
  const now = rank(assessmentOf(flow, context).outcome);
  return Object.entries(context.held).flatMap(([id, held]) => {
    const spec = flow.findings[id];
    if (spec === undefined || spec.kind === 'number') return [];
    return optionsOf(flow, spec).flatMap(({ value, label }) => {
      if (value === held.value) return [];
      const other = { ...context.held, [id]: { ...held, value, takenBackTo: null } };
      const { outcome } = assessmentOf(flow, { ...context, held: other });
      if (rank(outcome) === now) return [];
      return [{ finding: spec.is, was: labelOf(flow, id, held.value), instead: label, outcome }];
    });
  });
}

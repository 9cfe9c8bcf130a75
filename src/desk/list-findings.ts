/** GET /api/calls/:id/findings: everything that a caller can volunteer, in the groups of the vocabulary. */
import { ok } from '../basics/result.ts';
import { IMMEDIATE_DANGER } from '../clinical/finding.ts';
import { loadCall } from '../call/load-call.ts';
import type { FindingsAnswer } from './contract/findings.ts';
import type { Endpoint } from './endpoint.ts';
import { callIdOf } from './read-call.ts';
import { inAskingOrder, numberOf, optionsOf } from './view/values.ts';

export const listFindings: Endpoint = async (deps, { who, id }) => {
  const loaded = await loadCall(deps.turn, callIdOf(id));
  if (!loaded.ok) return loaded;
  const { runner, snapshot } = loaded.value;
  const { flow } = runner.compiled;
  const answer: FindingsAnswer = {
    findings: inAskingOrder(flow)
      .filter(({ group }) => who.role !== 'front-desk' || group === IMMEDIATE_DANGER)
      .map((spec) => ({
        id: spec.id,
        group: spec.group,
        is: spec.is,
        options: optionsOf(flow, spec),
        number: numberOf(spec),
        tick: spec.kind === 'yes-no' && spec.worse !== 'no',
        value: snapshot.context.held[spec.id]?.value ?? null,
      })),
  };
  return ok(answer);
};

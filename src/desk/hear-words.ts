/** POST /api/calls/:id/hear: reads words that a caller volunteered. It changes nothing: the nurse accepts or drops. */
import { ok } from '../basics/result.ts';
import { isValueOf } from '../clinical/finding.ts';
import { loadCall } from '../call/load-call.ts';
import { hearSchema, type HeardAnswer } from './contract/findings.ts';
import { readBody, type Endpoint } from './endpoint.ts';
import { callIdOf } from './read-call.ts';

export const hearWords: Endpoint = async (deps, { id, body }) => {
  const request = readBody(hearSchema, body);
  if (!request.ok) return request;
  const loaded = await loadCall(deps.turn, callIdOf(id));
  if (!loaded.ok) return loaded;
  const { flow } = loaded.value.runner.compiled;
  const day = loaded.value.snapshot.context.times[0]?.day ?? null;
  const said = { text: request.value.text, asked: null, procedure: flow.id, day, confidence: 1 };
  const { findings, because } = deps.turn.hearing.understand(said);
  const heard = Object.entries(findings).flatMap(([finding, value]) => {
    const spec = flow.findings[finding];
    if (spec === undefined || !isValueOf(spec, value)) return [];
    const words = because.filter((one) => one.finding === finding).map((one) => one.words);
    return [{ finding, value, words: [...new Set(words)].join(' … ') }];
  });
  const answer: HeardAnswer = { heard };
  return ok(answer);
};

/** Rings demo calls on the line and keys every answer: each ends as it does when it is replayed. */
import { newId } from '../../src/basics/ids.ts';
import { UNSURE, type FindingValue } from '../../src/clinical/finding.ts';
import type { Outcome } from '../../src/clinical/outcome.ts';
import { loadCall } from '../../src/call/load-call.ts';
import { choicesOf, isYesNo } from '../../src/call/read-keyed.ts';
import { standingOf } from '../../src/call/step.ts';
import type { TurnDone } from '../../src/call/turn.ts';
import type { Question } from '../../src/flow/compiled.ts';
import { procedureList } from '../../src/line/read-operation.ts';
import type { DemoCall } from '../../src/terminal/demo-call.ts';
import { playCall, replyTo } from '../../src/terminal/play-call.ts';
import { readCalls, type FoundCall } from '../../src/terminal/read-calls.ts';
import { listFiles } from '../support/project-files.ts';
import { aLine, NIGHT, type Caller, type Line } from './a-line.ts';
import { demoPatient, type DemoPatient } from './demo-patient.ts';

const files = listFiles('demo-calls', ['.yaml']);
const calls = readCalls(files);

/** Every demo call, or one in so many. */
export function demoCalls(every = 1): readonly (FoundCall & { readonly at: number })[] {
  const found = calls.ok ? calls.value : [];
  return found.map((one, at) => ({ ...one, at })).filter(({ at }) => at % every === 0);
}

let clinic: 'open' | 'closed' = 'open';
const line: Line = await aLine(NIGHT, { isClinicOpen: () => clinic === 'open' });

export const stopRinging = (): void => line.stop();

/** What a nurse ticks without asking cannot be keyed; it is said in the opening, which is left out here. */
function keyable(call: DemoCall): DemoCall {
  const facts = Object.entries(call.facts ?? {}).filter(
    ([id]) => id !== 'caller-is' && id !== 'caller-very-worried' && !id.startsWith('asks-'),
  );
  return { ...call, facts: Object.fromEntries(facts) };
}

/** The key for a value, in the order in which the line reads the choices out. */
function keyFor(question: Question, value: FindingValue, isNumber: boolean): string {
  if (isNumber && value === UNSURE) return '**';
  if (typeof value === 'number') {
    const tenths = !Number.isInteger(value);
    return value === 0 ? '00' : String(tenths ? Math.round(value * 10) : value);
  }
  if (isYesNo(question)) return { yes: '1', no: '2' }[value] ?? '3';
  const choices = choicesOf(question);
  const at = choices.findIndex((one) => one.value === value);
  return String((at < 0 ? choices.length : at) + 1);
}

async function doneOf(caller: Caller): Promise<TurnDone> {
  const loaded = await loadCall(line.deps.turn, caller.call);
  if (!loaded.ok) throw new Error(loaded.fault.message);
  const { runner, snapshot } = loaded.value;
  return { standing: standingOf(runner, snapshot), runner } as unknown as TurnDone;
}

async function key(caller: Caller, call: DemoCall, patient: DemoPatient): Promise<Caller> {
  if (caller.step === 'born') return caller.press(patient.born);
  if (caller.step === 'operation') {
    const place = procedureList(line.deps.words).indexOf(call.procedure);
    return caller.press(String(place + 1));
  }
  if (caller.asked === 'opening') return caller.press('1');
  const done = await doneOf(caller);
  const { question } = done.standing;
  if (question === null || question.id !== caller.asked) throw new Error(`${caller.asked} is not put`);
  if (question.fact !== null) return caller.press('1');
  const reply = replyTo(question, call, done);
  const value = reply.kind === 'answer' ? reply.value : UNSURE;
  const [id = ''] = question.findings;
  const isNumber = question.kind === 'finding' && done.runner.compiled.flow.findings[id]?.kind === 'number';
  return caller.press(keyFor(question, value, isNumber));
}

async function rung(call: DemoCall, at: number): Promise<Caller> {
  clinic = call.clinic ?? 'open';
  const patient = await demoPatient(line, call, at);
  const caller = await line.ring({ from: patient.number, sid: `CA${newId().replaceAll('-', '')}` });
  for (let n = 0; caller.gather !== null && caller.step !== 'said-back'; n += 1) {
    if (n > 80) throw new Error(`It does not end: ${caller.heard.slice(-3).join(' | ')}`);
    await key(caller, call, patient);
  }
  return caller;
}

/** What it came to on the line, and in the replay without its first words. */
export async function bothWays(call: DemoCall, at: number): Promise<readonly [Outcome, Outcome]> {
  const demo = keyable(call);
  const caller = await rung(demo, at);
  const replayed = await playCall(line.deps.turn, demo, {
    withOpening: false,
    callerNumber: '+447700900900',
  });
  if (!replayed.ok) throw new Error(replayed.fault.message);
  const standing = await caller.standing();
  return [standing.assessment.outcome, replayed.value.done.standing.assessment.outcome];
}

/**
 * What each role may put into a call. The front desk takes the danger screen, the number and the caller's words, and
 * passes the call on; a clinician accepts and lowers in person; a nurse reports an acceptance and asks for a lowering.
 */
import { fault, type Fault } from '../basics/fault.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { IMMEDIATE_DANGER } from '../clinical/finding.ts';
import type { TurnInput } from '../call/input.ts';
import type { SignedIn } from '../people/staff.ts';
import type { Flow } from './view/values.ts';

const NOT_AT_THE_FRONT_DESK = fault(
  'not-allowed',
  'The front desk takes the danger questions, the number and what the caller says; a nurse goes on from here.',
);
const CLINICIAN_LOWERS = fault(
  'needs-clinician',
  'A clinician who is signed in lowers an outcome; ask for it, and it stands open until then.',
);

/** The input as it may go in: who accepts or lowers is whoever is signed in, whatever was sent. */
export function inputFrom(who: SignedIn, input: TurnInput): Result<TurnInput, Fault> {
  const isClinician = who.role === 'on-call-clinician';
  if (input.kind === 'lower') {
    return isClinician ? ok({ ...input, clinician: who.name }) : failed(CLINICIAN_LOWERS);
  }
  if (input.kind === 'accept') {
    const { kind } = input;
    return ok(
      isClinician ? { kind, clinician: who.name } : { kind, clinician: input.clinician, reported: true },
    );
  }
  return ok(input);
}

/** What the front desk may put into a call that is on this script. */
export function frontDeskInput(input: TurnInput, flow: Flow): Result<TurnInput, Fault> {
  return isFrontDesk(input, flow) ? ok(input) : failed(NOT_AT_THE_FRONT_DESK);
}

function isFrontDesk(input: TurnInput, flow: Flow): boolean {
  switch (input.kind) {
    case 'start':
    case 'opening':
    case 'identify':
    case 'fact':
    case 'back':
    case 'note':
    case 'cut-off':
      return true;
    case 'answer':
    case 'reopen':
      return isScreen(flow, input.question);
    case 'volunteer':
      return Object.keys(input.findings).every((id) => isDanger(flow, id));
    case 'promise-kept':
      return input.promise === 'call-back';
    case 'heard':
    case 'operation':
    case 'attempt':
    case 'send-advice':
    case 'tell':
    case 'raise':
    case 'ask-lowering':
    case 'lower':
    case 'accept':
    case 'close':
      return false;
  }
}

/** A question of the screen, or one of its group that was opened one by one. */
function isScreen(flow: Flow, id: string): boolean {
  const question = flow.questions.find((one) => one.id === id);
  return (
    question?.tier === 'screen' || question?.findings.every((finding) => isDanger(flow, finding)) === true
  );
}

function isDanger(flow: Flow, finding: string): boolean {
  return flow.findings[finding]?.group === IMMEDIATE_DANGER;
}

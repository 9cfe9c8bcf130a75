/** An expected failure at an edge: a closed code and one clear sentence without callers' words or numbers. */
export interface Fault {
  readonly code: FaultCode;
  readonly message: string;
}

/** Every code a fault can carry; `server/errors.ts` maps each to an HTTP status and an exit code. */
export type FaultCode =
  | 'bad-request' // malformed input: what is wrong, where, what is accepted
  | 'not-found' // no such call, patient, question or finding
  | 'not-now' // the call is not in a state that takes this
  | 'out-of-range' // a number outside its limits: asked again
  | 'needs-clinician' // lowering or closing that only a named clinician may do
  | 'signed-out' // nobody is signed in, or the session has ended
  | 'not-allowed' // the role of whoever is signed in does not do this
  | 'too-many' // too many tries in a short time
  | 'stale' // somebody else changed the call; read it again
  | 'store-down' // the store cannot write; nothing was recorded
  | 'flow-unloadable'; // flow files that cannot be read or checked

export function fault(code: FaultCode, message: string): Fault {
  return { code, message };
}

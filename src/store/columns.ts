/** The columns of each table in the order in which they are written. */
export const CALL = [
  'id',
  'seq',
  'hash',
  'channel',
  'direction',
  'started_at',
  'zone',
  'patient_id',
  'operation_id',
  'flow_hash',
  'lexicon_hash',
  'program_version',
  'state',
  'outcome',
  'about',
] as const;
/** Those of a call that change from turn to turn; how it began stays as it was. */
export const MOVED = [
  'seq',
  'hash',
  'flow_hash',
  'lexicon_hash',
  'program_version',
  'state',
  'outcome',
  'about',
] as const satisfies readonly (typeof CALL)[number][];
export const EVENT = ['call', 'seq', 'at', 'by', 'type', 'v', 'open', 'sealed', 'prev', 'hash'] as const;
export const TURN = ['call', 'token', 'seq', 'reply'] as const;
export const PROMISE = ['id', 'call', 'kind', 'opened_at', 'due_at', 'owner', 'state', 'open'] as const;
export const MESSAGE = [
  'id',
  'call',
  'promise',
  'kind',
  'who',
  'template',
  'sealed',
  'due_at',
  'state',
  'tries',
  'claimed_at',
  'claimed_by',
  'provider_id',
] as const;
export const TEXT_NUMBER = ['token', 'call', 'begun_at', 'stopped_at'] as const;
export const KEY = ['kind', 'id', 'wrapped_by', 'wrapped'] as const;
export const CHECKPOINT = ['n', 'at', 'heads', 'prev', 'hash'] as const;
export const OPERATION = ['id', 'patient_id', 'sealed'] as const;
export const AUDIT_ENTRY = ['id', 'at', 'who', 'role', 'what', 'about', 'from_address'] as const;
export const AUDIT = ['id', 'call', 'at', 'who', 'sealed'] as const;
export const FLOW = ['hash', 'content', 'kept_at'] as const;

/** Signs scripts, withdraws signatures, and says what is signed: what the command `approve` does, with its lines as values. */
import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { civilTime } from '../basics/civil-time.ts';
import type { Clock } from '../basics/clock.ts';
import { showDiagnostic } from '../content/diagnostic.ts';
import { changeList } from '../content/write-list.ts';
import {
  SIGNERS,
  expiryWarnings,
  signedState,
  whyNotSigned,
  type Approval,
  type CurrentFlow,
  type SignedState,
  type Signer,
} from '../flow/approvals.ts';
import type { CompiledFlow } from '../flow/compiled.ts';
import type { FlowLibrary } from '../flow/library.ts';
import { checkEdges } from '../prove/edges.ts';
import { proveDerived, proveSingles } from '../prove/prove.ts';
import { isProved } from '../prove/report.ts';
import { reportLines } from '../prove/report-text.ts';
import { loadContent, type Content } from '../server/content.ts';

export interface ApproveOptions {
  readonly as?: string;
  readonly by?: string;
  readonly until?: string;
  readonly withdraw?: true;
  readonly surgeon?: string;
  readonly pairs?: true;
  readonly flows: string;
}

/** Where the command writes, and how it ends: 0 as asked, 1 something does not hold, 2 unusable input. */
export interface Output {
  readonly line: (text: string) => void;
  readonly error: (text: string) => void;
  readonly exit: (code: 0 | 1 | 2) => void;
}

export interface Asked {
  readonly named: readonly string[];
  readonly options: ApproveOptions;
}

export function approve({ named, options }: Asked, clock: Clock, output: Output): void {
  const wrong = named.length === 0 ? null : whatIsWrong(options);
  if (wrong !== null) return refuse(output, wrong);
  const content = loadContent(options.flows);
  if (!content.ok) {
    for (const diagnostic of content.fault) output.error(showDiagnostic(diagnostic));
    return output.exit(2);
  }
  const today = civilTime(clock.now(), content.value.practice.zone);
  if (!today.ok) return refuse(output, today.fault.message);
  const approvals = content.value.approvals();
  const at: At = { content: content.value, approvals, options, today: today.value.date, output };
  if (named.length === 0) return tell(at);
  const flows = wantedFlows(at.content.library, named, options);
  if (typeof flows === 'string') return refuse(output, flows);
  if (options.withdraw === true) return withdraw(at, flows);
  return sign(at, flows);
}

/** What is asked for is looked at before anything is read. */
function whatIsWrong(options: ApproveOptions): string | null {
  if (options.withdraw === true) {
    return (options.by ?? '').trim() === ''
      ? '--by is missing; the name of whoever withdraws is accepted.'
      : null;
  }
  const signed = signedBy(options);
  return typeof signed === 'string' ? signed : null;
}

interface At {
  readonly content: Content;
  readonly approvals: readonly Approval[];
  readonly options: ApproveOptions;
  readonly today: string;
  readonly output: Output;
}

interface Wanted {
  readonly procedure: string;
  readonly flow: CompiledFlow;
}

function refuse(output: Output, message: string): void {
  output.error(message);
  output.exit(2);
}

/** The flows that the arguments name, or what is wrong with them. */
function wantedFlows(
  library: FlowLibrary,
  named: readonly string[],
  { surgeon, pairs }: ApproveOptions,
): readonly Wanted[] | string {
  if (surgeon !== undefined && !library.surgeons.includes(surgeon)) {
    return `--surgeon ${surgeon} has no rules of their own; accepted: ${library.surgeons.join(', ')}.`;
  }
  const groups = named.map((one) => one.split('+'));
  const unknown = groups.flat().find((id) => id !== 'general' && !library.procedures.includes(id));
  if (unknown !== undefined) {
    return `There is no script for ${unknown}; accepted: ${[...library.procedures, 'general'].join(', ')}.`;
  }
  const alone = groups.flatMap((group) => (group.length === 1 && group[0] !== 'general' ? group : []));
  const twos = alone.flatMap((a, at) => alone.slice(at + 1).map((b) => [a, b]));
  return [...groups, ...(pairs === true ? twos : [])].map((group) => {
    const flow = library.flowFor(group, surgeon ?? null);
    return { procedure: nameOf(flow), flow };
  });
}

function nameOf({ flow }: CompiledFlow): string {
  return flow.surgeon === null ? flow.id : `${flow.procedures.join('+')} (${flow.surgeon})`;
}

function sign(at: At, flows: readonly Wanted[]): void {
  const signed = signedBy(at.options);
  if (typeof signed === 'string') return refuse(at.output, signed);
  const wanted = flows.map((one) => wantedRow(one, { ...signed, on: at.today }));
  for (const row of wanted) {
    const why = whyNotSigned(at.approvals, row);
    if (why !== null) return refuse(at.output, why);
  }
  if (!areProved(at, flows)) return at.output.exit(1);
  write(at, { add: wanted, set: [] });
  const now = afterwards(at);
  for (const { flow } of flows) {
    at.output.line(stateLine(signedState(now.approvals, currentOf(flow), now.today)));
  }
  sayChanged(now);
}

interface Signed {
  readonly as: Signer;
  readonly by: string;
  readonly until: string;
}

/** Who signs as what until when, or what is missing. */
function signedBy({ as, by = '', until = '' }: ApproveOptions): Signed | string {
  const signer = SIGNERS.find((one) => one === as);
  if (signer === undefined) return '--as names nobody who may sign; surgeon or safety is accepted.';
  if (by.trim() === '') return '--by is missing; the name of whoever signs is accepted.';
  if (!/^\d{4}-\d{2}-\d{2}$/.test(until)) {
    return '--until is no date; the last day of the approval as YYYY-MM-DD is accepted.';
  }
  return { as: signer, by: by.trim(), until };
}

function wantedRow({ procedure, flow }: Wanted, signed: Signed & { readonly on: string }): Approval {
  return { procedure, hash: flow.hash, ...signed };
}

/** Proves what is to be signed; what does not hold is shown, and nothing is signed. */
function areProved(at: At, flows: readonly Wanted[]): boolean {
  const isDerived = ({ flow }: Wanted): boolean =>
    flow.flow.procedures.length > 1 || flow.flow.surgeon !== null;
  const parts = (one: Wanted): readonly CompiledFlow[] =>
    one.flow.flow.procedures.map((id) => at.content.library.flowFor([id]));
  const single = flows.flatMap((one) => (isDerived(one) ? parts(one) : [one.flow]));
  const unique = [...new Map(single.map((flow) => [flow.hash, flow])).values()];
  at.output.error(`Proving ${String(flows.length)} ${flows.length === 1 ? 'script' : 'scripts'} ...`);
  const derived = flows.filter(isDerived).map(({ flow }) => flow);
  const reports = [...proveSingles(unique), ...proveDerived({ single: unique, derived })];
  const fallen = reports.filter((report) => !isProved(report));
  for (const report of fallen) for (const line of reportLines(report)) at.output.error(line);
  const { gaps } = checkEdges(at.content.library);
  for (const { file, line, message } of gaps) at.output.error(`${file}:${String(line)} ${message}`);
  if (fallen.length + gaps.length > 0)
    at.output.error('Nothing was signed: what stands above does not hold.');
  return fallen.length + gaps.length === 0;
}

function withdraw(at: At, flows: readonly Wanted[]): void {
  const { by = '' } = at.options;
  const names = new Set(flows.map(({ procedure }) => procedure));
  const set = at.approvals.flatMap((one, place) =>
    isAbout(one, names) && one.withdrawn === undefined
      ? [
          { at: place, key: 'withdrawn', value: at.today },
          { at: place, key: 'withdrawnBy', value: by.trim() },
        ]
      : [],
  );
  if (set.length === 0)
    return refuse(at.output, `Nothing is signed for ${[...names].join(', ')}; nothing was changed.`);
  write(at, { add: [], set });
  at.output.line(
    `Withdrawn from now on: ${[...names].join(', ')} (${String(set.length / 2)} signatures), by ${by.trim()}.`,
  );
}

/** A procedure's combinations and surgeons' versions fall with it; a combination by itself falls alone. */
function isAbout({ procedure }: Approval, names: ReadonlySet<string>): boolean {
  const [ids = ''] = procedure.split(' ');
  return names.has(procedure) || ids.split('+').some((id) => names.has(id));
}

interface Rows {
  readonly add: readonly Approval[];
  readonly set: readonly { readonly at: number; readonly key: string; readonly value: string }[];
}

/** In one step: whoever reads the file meanwhile finds the old text or the new. */
function write(at: At, { add, set }: Rows): void {
  const file = fileOf(at);
  const entries = add.map(({ procedure, hash, as, by, on, until }) => ({
    procedure,
    hash,
    as,
    by,
    on,
    until,
  }));
  const next = changeList(readFileSync(file, 'utf8'), 'approvals', { add: entries, set });
  writeFileSync(`${file}.new`, next);
  renameSync(`${file}.new`, file);
}

function fileOf({ options }: At): string {
  return `${options.flows}/approvals.yaml`;
}

/** What was just written is read again through every check. */
function afterwards(at: At): At {
  const content = loadContent(at.options.flows);
  if (!content.ok) throw new Error('The file that was just written does not load.');
  return { ...at, content: content.value, approvals: content.value.approvals() };
}

function currentOf(compiled: CompiledFlow): CurrentFlow {
  return { procedure: nameOf(compiled), hash: compiled.hash };
}

function tell(at: At): void {
  for (const state of statesOf(at)) at.output.line(stateLine(state));
  for (const { procedure, daysLeft, until } of expiryWarnings(statesOf(at), at.today)) {
    at.output.line(`ends soon: ${procedure}, on ${until} (${String(daysLeft)} days left)`);
  }
  sayChanged(at);
}

function statesOf({ content, approvals, today }: At): readonly SignedState[] {
  const { library } = content;
  return library.procedures.map((id) => signedState(approvals, currentOf(library.flowFor([id])), today));
}

/** An edit of a shared topic changes many scripts at once; each has to be signed anew. */
function sayChanged(at: At): void {
  const changed = statesOf(at)
    .filter((state) => state.changed)
    .map(({ procedure }) => procedure);
  if (changed.length > 0)
    at.output.line(`Changed since they were signed, to be signed anew: ${changed.join(' ')}`);
}

function stateLine({ procedure, hash, state, until, signed }: SignedState): string {
  const short = hash.slice(0, 12);
  if (state === 'approved') return `${procedure} ${short}: approved until ${String(until)}`;
  const half = signed.length > 0 ? `, signed so far as ${signed.join(', ')}` : '';
  return `${procedure} ${short}: ${state}${half}`;
}

/** `npm run bench`: measures speed beside its references and prints one table. It judges nothing: it always ends well. */
import { availableParallelism, loadavg } from 'node:os';
import { loadContent } from '../../src/server/content.ts';
import { emptyHubMillis, machineStepMillis, understandingMillis } from './in-process.ts';
import { inBrowser } from './in-browser.ts';
import { searchMillis } from './search.ts';
import { besideSolver, proveSeconds } from './proofs.ts';
import { lineCalls } from './line-calls.ts';
import { startUpSeconds } from './start-up.ts';
import { turnOverHttp, type Measured } from './turn-over-http.ts';

interface Line {
  readonly what: string;
  readonly measured: string;
  readonly reference: string;
  readonly target: string;
  /** Null where there is no target. */
  readonly met: boolean | null;
}

const RATE_SHARE = 0.8;
const P99_TIMES = 2;
const START_SECONDS = 3;
const LINE_CALLS = 200;
const LINE_P99_MILLIS = 200;
const PROVE_SECONDS = 5;

function httpLines({ bare, turn, desk }: Measured): readonly Line[] {
  const served = [
    { name: 'a turn over HTTP, bare route', result: turn },
    { name: 'a turn over HTTP, the whole desk', result: desk },
  ];
  return served.flatMap(({ name, result }) => [
    {
      what: `${name}: rate`,
      measured: `${result.perSecond.toFixed(0)}/s, ${share(result.perSecond, bare.perSecond)} of the reference`,
      reference: `${bare.perSecond.toFixed(0)}/s, JSON and one durable insert`,
      target: `at least ${RATE_SHARE.toFixed(2)}`,
      met: result.perSecond >= RATE_SHARE * bare.perSecond,
    },
    {
      what: `${name}: p99`,
      measured: `${millis(result.p99)} (p50 ${millis(result.p50)}), ${share(result.p99, bare.p99)} of the reference`,
      reference: `${millis(bare.p99)} (p50 ${millis(bare.p50)})`,
      target: `at most ${P99_TIMES.toFixed(2)}`,
      met: result.p99 <= P99_TIMES * bare.p99,
    },
  ]);
}

function share(value: number, of: number): string {
  return (value / of).toFixed(2);
}

function millis(value: number): string {
  return `${value.toFixed(value < 1 ? 3 : 1)} ms`;
}

function inProcessLines(): readonly Line[] {
  const content = loadContent('flows');
  if (!content.ok) throw new Error('The flows do not load; the check of the flows says why.');
  const none = { target: '-', met: null };
  return [
    {
      what: 'a step of the machine',
      measured: millis(machineStepMillis(content.value)),
      reference: `${millis(emptyHubMillis(content.value))}, an empty hub of the same size`,
      ...none,
    },
    {
      what: 'understanding an opening',
      measured: millis(understandingMillis(content.value)),
      reference: '-',
      ...none,
    },
  ];
}

async function startLine(): Promise<Line> {
  const seconds = await startUpSeconds(3);
  return {
    what: 'from npm start to the first page',
    measured: `${seconds.toFixed(2)} s`,
    reference: '-',
    target: `under ${START_SECONDS.toFixed(0)} s`,
    met: seconds < START_SECONDS,
  };
}

async function proofLines(): Promise<readonly Line[]> {
  const content = loadContent('flows');
  if (!content.ok) throw new Error('The flows do not load; the check of the flows says why.');
  const seconds = await proveSeconds(3);
  const { ours, solver } = await besideSolver(content.value.library.flowFor(['breast-lift']));
  return [
    {
      what: 'proving all flows, best of 3',
      measured: `${seconds.toFixed(2)} s`,
      reference: '-',
      target: `under ${PROVE_SECONDS.toFixed(0)} s`,
      met: seconds < PROVE_SECONDS,
    },
    {
      what: 'properties 2 and 3 of one flow',
      measured: `${millis(ours)}, all days and hours`,
      reference: `${millis(solver)}, Z3, one day alone`,
      target: '-',
      met: null,
    },
  ];
}

const NEXT_QUESTION_MILLIS = 50;
const SEARCH_MILLIS = 50;

async function pageLines(): Promise<readonly Line[]> {
  const { answers, p50, p95, shift } = await inBrowser();
  return [
    {
      what: 'from the key to the next question, in a browser',
      measured: `p95 ${millis(p95)} (p50 ${millis(p50)}, ${answers} answers)`,
      reference: '-',
      target: `p95 under ${NEXT_QUESTION_MILLIS} ms`,
      met: p95 < NEXT_QUESTION_MILLIS,
    },
    {
      what: 'what moves on the page of a call by itself',
      measured: `cumulative layout shift ${shift.toFixed(3)}`,
      reference: '-',
      target: '0.000',
      met: shift < 0.0005,
    },
  ];
}

async function searchLines(): Promise<readonly Line[]> {
  const content = loadContent('flows');
  if (!content.ok) throw new Error('The flows do not load; the check of the flows says why.');
  const { p50, p95 } = await searchMillis(content.value);
  return [
    {
      what: 'finding among 50,000 patients',
      measured: `p95 ${millis(p95)} (p50 ${millis(p50)})`,
      reference: '-',
      target: `p95 under ${SEARCH_MILLIS} ms`,
      met: p95 < SEARCH_MILLIS,
    },
  ];
}

async function telephoneLines(): Promise<readonly Line[]> {
  const { calls, turns, failed, p50, p99, peakMiB } = await lineCalls(LINE_CALLS);
  const name = `${String(calls)} calls at once on the line`;
  const reference = `${String(turns)} requests, callers that answer at once`;
  return [
    {
      what: `${name}: p99 of a request`,
      measured: `${millis(p99)} (p50 ${millis(p50)})`,
      reference,
      target: `under ${String(LINE_P99_MILLIS)} ms`,
      met: p99 < LINE_P99_MILLIS,
    },
    { what: `${name}: failed calls`, measured: String(failed), reference, target: 'none', met: failed === 0 },
    {
      what: `${name}: most memory`,
      measured: peakMiB === null ? 'not known' : `${peakMiB.toFixed(0)} MiB`,
      reference,
      target: '-',
      met: null,
    },
  ];
}

function show(lines: readonly Line[]): void {
  const rows = [
    ['what', 'measured', 'reference', 'target', 'met'],
    ...lines.map(({ what, measured, reference, target, met }) => [
      what,
      measured,
      reference,
      target,
      met === null ? '-' : met ? 'yes' : 'no',
    ]),
  ];
  const widths = rows[0]?.map((_name, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  for (const row of rows) {
    console.log(
      row
        .map((cell, column) => cell.padEnd(widths?.[column] ?? 0))
        .join('  ')
        .trimEnd(),
    );
  }
}

/** What could not be measured is said, and the rest is measured all the same. */
async function attempted(name: string, measure: () => Promise<readonly Line[]>): Promise<readonly Line[]> {
  try {
    return await measure();
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return [{ what: name, measured: `not measured: ${why}`, reference: '-', target: '-', met: null }];
  }
}

const before = loadavg()[0] ?? 0;
console.log(
  `${availableParallelism()} processors, load ${before.toFixed(1)} before; 64 connections, SQLite, FULL`,
);
show([
  ...(await attempted('a turn over HTTP', async () =>
    httpLines(await turnOverHttp({ rounds: 3, millis: 4_000 })),
  )),
  ...(await attempted('the line', telephoneLines)),
  ...(await attempted('start', async () => [await startLine()])),
  ...(await attempted('in a browser', pageLines)),
  ...(await attempted('finding a patient', searchLines)),
  ...(await attempted('in process', async () => inProcessLines())),
  ...(await attempted('proofs', proofLines)),
]);

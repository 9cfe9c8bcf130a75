/** Reads demo calls from YAML files (one call each) and JSON-lines files (one call a line). */
import { readFileSync } from 'node:fs';
import { fault, type Fault } from '../basics/fault.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { checkShape } from '../content/check-shape.ts';
import { showDiagnostic } from '../content/diagnostic.ts';
import { readYaml } from '../content/read-yaml.ts';
import { demoCallSchema, timeOf, type DemoCall } from './demo-call.ts';

export interface FoundCall {
  /** File, and line in a `.jsonl`. */
  readonly place: string;
  readonly call: DemoCall;
}

/** The first thing that is wrong, or every call of every file. */
export function readCalls(files: readonly string[]): Result<readonly FoundCall[], Fault> {
  const calls: FoundCall[] = [];
  for (const file of files) {
    const text = readText(file);
    if (text === null)
      return failed(fault('bad-request', `${file}: cannot be read; a file of demo calls is accepted.`));
    const read = file.endsWith('.jsonl') ? readLines(file, text) : readOne(file, text);
    if (!read.ok) return read;
    calls.push(...read.value);
  }
  return ok(calls);
}

function readText(file: string): string | null {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return null;
  }
}

function readOne(file: string, text: string): Result<readonly FoundCall[], Fault> {
  const source = readYaml(file, text);
  const call = source.ok ? checkShape(demoCallSchema, source.value) : source;
  if (!call.ok) {
    const [first] = call.fault;
    return failed(
      fault('bad-request', first === undefined ? `${file}: not a demo call.` : showDiagnostic(first)),
    );
  }
  return checked(file, call.value);
}

function checked(place: string, call: DemoCall): Result<readonly FoundCall[], Fault> {
  const time = timeOf(call);
  if (!time.ok) return failed(fault('bad-request', `${place}: ${time.fault.message}.`));
  return ok([{ place, call }]);
}

function readLines(file: string, text: string): Result<readonly FoundCall[], Fault> {
  const calls: FoundCall[] = [];
  for (const [at, line] of text.split('\n').entries()) {
    if (line.trim() === '') continue;
    const place = `${file}:${at + 1}`;
    const parsed = parseJson(line);
    if (parsed === null) {
      return failed(
        fault('bad-request', `${place}: this is not JSON; one demo call as one object is accepted.`),
      );
    }
    const shape = demoCallSchema.safeParse(parsed);
    if (!shape.success) {
      const [issue] = shape.error.issues;
      const where = issue === undefined ? 'the line' : issue.path.join('.') || 'the line';
      return failed(fault('bad-request', `${place}: ${where}: ${issue?.message ?? 'not a demo call'}.`));
    }
    const one = checked(place, shape.data);
    if (!one.ok) return one;
    calls.push(...one.value);
  }
  if (calls.length === 0) {
    return failed(
      fault('bad-request', `${file}: the file is empty; one demo call as one object a line is accepted.`),
    );
  }
  return ok(calls);
}

function parseJson(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    return null;
  }
}

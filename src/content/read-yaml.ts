/** Reads one YAML 1.2 file into plain data with the line of every path, or says all that is wrong with it. */
import { LineCounter, parseDocument, type Document } from 'yaml';
import { failed, ok, type Result } from '../basics/result.ts';
import type { ContentPath, Diagnostic, DiagnosticCode } from './diagnostic.ts';
import { checkNodes, type ParsedFile } from './check-nodes.ts';
import { lineFinder } from './line-finder.ts';

export interface YamlSource {
  readonly file: string;
  readonly data: unknown;
  /** The line of a value (of its key, in a group); of the nearest thing around it when the path does not exist. */
  readonly lineOf: (path: ContentPath) => number;
}

const TOO_DEEP = 'The file is nested too deeply; 40 levels are accepted.';

export function readYaml(file: string, text: string): Result<YamlSource, readonly Diagnostic[]> {
  const lines = new LineCounter();
  const document = parseDocument(text, {
    version: '1.2',
    lineCounter: lines,
    prettyErrors: false,
    uniqueKeys: false,
  });
  const problems = [...syntaxProblems({ file, document, lines }, text), ...documentProblems(file, document)];
  // The walk looks at what could be read, so that all that is wrong is said at once.
  problems.push(...checkNodes({ file, document, lines }));
  if (problems.length > 0) return failed(tidy(problems));
  return ok({ file, data: document.toJS() as unknown, lineOf: lineFinder(document, lines) });
}

function syntaxProblems({ file, document, lines }: ParsedFile, text: string): Diagnostic[] {
  // What is missing at the end is said of the last line that has something on it.
  const end = text.trimEnd().length;
  return [...document.errors, ...document.warnings].map((error) => ({
    code: 'unreadable',
    severity: 'error',
    file,
    line: Math.max(1, lines.linePos(Math.min(error.pos[0], end)).line),
    path: [],
    message: explain(error.code, error.message),
  }));
}

function explain(code: string, message: string): string {
  if (code === 'RESOURCE_EXHAUSTION' || message.startsWith('Maximum call stack')) return TOO_DEEP;
  if (code === 'TAB_AS_INDENT') return 'A tab stands in the indentation; spaces are accepted.';
  if (code === 'MULTIPLE_DOCS') return 'A second document begins here; one document a file is accepted.';
  return `This is not YAML 1.2: ${message.replace(/\.?\s*$/, '')}.`;
}

function documentProblems(file: string, document: Document.Parsed): Diagnostic[] {
  const code: DiagnosticCode = 'unreadable';
  const base = { code, severity: 'error', file, line: 1, path: [] } as const;
  const problems: Diagnostic[] = [];
  if (document.directives.yaml.explicit && document.directives.yaml.version !== '1.2') {
    problems.push({ ...base, message: 'The file asks for another version of YAML; 1.2 is accepted.' });
  }
  if (document.contents === null && document.errors.length === 0) {
    problems.push({ ...base, message: 'The file is empty; one YAML document is accepted.' });
  }
  return problems;
}

/** In the order of the lines; one broken bracket makes the reader say the same thing of a line many times. */
function tidy(problems: readonly Diagnostic[]): readonly Diagnostic[] {
  const byText = new Map(problems.map((problem) => [`${problem.line} ${problem.message}`, problem]));
  return [...byText.values()].toSorted((a, b) => a.line - b.line);
}

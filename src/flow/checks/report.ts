/** How a check says what is wrong: a code, the place, one sentence. */
import type { ContentPath, Diagnostic, DiagnosticCode } from '../../content/diagnostic.ts';
import type { YamlSource } from '../../content/read-yaml.ts';

export interface ReportPlace {
  readonly source: YamlSource;
  readonly path: ContentPath;
}

export type Report = (code: DiagnosticCode, place: ReportPlace, message: string) => void;

export function reporter(into: Diagnostic[]): Report {
  return (code, { source, path }, message) => {
    into.push({ code, severity: 'error', file: source.file, line: source.lineOf(path), path, message });
  };
}

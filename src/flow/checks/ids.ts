/** Checks that within one procedure, with the rules of any surgeon, no two questions and no two rules carry the same id. */
import type { YamlSource } from '../../content/read-yaml.ts';
import { GENERAL } from '../compile.ts';
import type { FlowFiles } from '../files.ts';
import type { Report } from './report.ts';

export function checkIds(files: FlowFiles, report: Report): void {
  const ruleIds = new Map<string, string>();
  for (const { data, source } of files.procedures.values()) {
    const topics = Object.keys(data.topics).flatMap((topic) => files.topics.get(topic) ?? []);
    for (const kind of ['questions', 'rules'] as const) {
      const seen = new Set<string>();
      for (const file of [...topics, { data, source }]) {
        for (const [at, { id }] of file.data[kind].entries()) {
          if (seen.has(id)) {
            report(
              'same-id',
              { source: file.source, path: [kind, at] },
              `The id "${id}" stands twice in ${data.procedure}; each is accepted once.`,
            );
          }
          seen.add(id);
          if (kind === 'rules') ruleIds.set(id, file.source.file);
        }
      }
    }
    checkKnownProcedure(files, { id: data.procedure, source }, report);
  }
  checkSurgeonIds(files, ruleIds, report);
}

/** A procedure is one of the vocabulary's, or the general one. */
function checkKnownProcedure(
  files: FlowFiles,
  { id, source }: { readonly id: string; readonly source: YamlSource },
  report: Report,
): void {
  const { procedures } = files.vocabulary;
  if (id === GENERAL || procedures.includes(id)) return;
  const message = `"${id}" is no procedure; one of ${[GENERAL, ...procedures].join(', ')} is accepted.`;
  report('unknown-procedure', { source, path: ['procedure'] }, message);
}

/** A surgeon's rule stands beside the shared ones and is told from them by its id; a name means one surgeon. */
function checkSurgeonIds(files: FlowFiles, shared: ReadonlyMap<string, string>, report: Report): void {
  const names = new Map<string, string>();
  for (const { data, source } of files.surgeons.values()) {
    const own = new Set<string>();
    for (const [at, { id }] of (data.rules ?? []).entries()) {
      const home = shared.get(id) ?? (own.has(id) ? source.file : undefined);
      own.add(id);
      if (home === undefined) continue;
      const message = `The rule "${id}" stands in ${home} already; an id of the surgeon's own is accepted.`;
      report('same-id', { source, path: ['rules', at] }, message);
    }
    for (const [at, name] of data.called.entries()) {
      const first = names.get(name);
      names.set(name, data.surgeon);
      if (first === undefined) continue;
      const message = `"${name}" is a name of surgeon "${first}" already; a name that means one surgeon is accepted.`;
      report('same-id', { source, path: ['called', at] }, message);
    }
  }
}

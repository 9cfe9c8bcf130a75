/** Checks that within one procedure no two questions and no two rules carry the same id. */
import type { FlowFiles } from '../files.ts';
import type { Report } from './report.ts';

export function checkIds(files: FlowFiles, report: Report): void {
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
        }
      }
    }
  }
}

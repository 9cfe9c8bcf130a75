/** Checks the second entry: procedures, findings and values that do not exist would make a row show nothing. */
import { acceptedValues, isValueOf } from '../../clinical/finding.ts';
import type { FlowFiles } from '../files.ts';
import type { Report } from './report.ts';

export function checkEdges(files: FlowFiles, report: Report): void {
  for (const { data, source } of files.edges) {
    for (const [at, { on, findings }] of data.edges.entries()) {
      for (const [place, id] of (on === 'all' ? [] : on).entries()) {
        if (files.procedures.has(id)) continue;
        const message = `There is no script for "${id}"; accepted: ${[...files.procedures.keys()].join(', ')}.`;
        report('unknown-procedure', { source, path: ['edges', at, 'on', place] }, message);
      }
      for (const [id, value] of Object.entries(findings)) {
        const spec = files.vocabulary.findings[id];
        const where = { source, path: ['edges', at, 'findings', id] };
        if (spec === undefined) {
          report('unknown-finding', where, `"${id}" is no finding; an id of findings.yaml is accepted.`);
        } else if (!isValueOf(spec, value)) {
          const message = `${id}: "${String(value)}" is none of its values; accepted: ${acceptedValues(spec)}.`;
          report('unknown-value', where, message);
        }
      }
    }
  }
}

/** Checks the cases that flow files carry: a finding or value that does not exist would make a case show nothing. */
import { acceptedValues, isValueOf } from '../../clinical/finding.ts';
import type { FlowFiles } from '../files.ts';
import type { Report } from './report.ts';

export function checkCases(files: FlowFiles, report: Report): void {
  for (const { data, source } of [...files.topics.values(), ...files.procedures.values()]) {
    for (const [at, one] of (data.cases ?? []).entries()) {
      if (one.procedure !== undefined && !files.vocabulary.procedures.includes(one.procedure)) {
        const accepted = files.vocabulary.procedures.join(', ');
        const message = `"${one.procedure}" is no procedure; one of ${accepted} is accepted.`;
        report('unknown-procedure', { source, path: ['cases', at, 'procedure'] }, message);
      }
      for (const [id, value] of Object.entries(one.findings)) {
        const spec = files.vocabulary.findings[id];
        const where = { source, path: ['cases', at, 'findings', id] };
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

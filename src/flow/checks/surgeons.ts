/** Checks a surgeon's own rules: known procedures, findings and concerns, and a plan that covers every day. */
import type { FlowFiles } from '../files.ts';
import type { Report } from './report.ts';
import { checkThresholds } from './concerns.ts';
import { checkRule } from './rules.ts';
import { checkAftercare } from './windows.ts';

export function checkSurgeons(files: FlowFiles, report: Report): void {
  for (const { data, source } of files.surgeons.values()) {
    for (const [at, rule] of (data.rules ?? []).entries()) {
      checkRule(files, rule, { source, path: ['rules', at], report });
    }
    for (const [concern, thresholds] of Object.entries(data.thresholds ?? {})) {
      const path = ['thresholds', concern];
      checkThresholds(files, thresholds, { source, path, report });
      if (files.concerns.data.concerns[concern] !== undefined) continue;
      const message = `"${concern}" is no concern; an id of concerns.yaml is accepted.`;
      report('unknown-concern', { source, path }, message);
    }
    for (const [procedure, plan] of Object.entries(data.aftercare ?? {})) {
      const place = { source, path: ['aftercare', procedure] };
      if (!files.procedures.has(procedure)) {
        report('unknown-procedure', place, `"${procedure}" is no procedure; one with a flow is accepted.`);
      }
      checkAftercare(plan, place, report);
    }
  }
}

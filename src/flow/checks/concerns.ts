/** Checks concerns: thresholds rise, and a finding gives points to one concern unless it is listed as shared. */
import { rank } from '../../clinical/outcome.ts';
import { toThreshold } from '../parts.ts';
import type { FlowFiles } from '../files.ts';
import { checkCondition } from './rules.ts';
import type { Report } from './report.ts';

export function checkConcerns(files: FlowFiles, report: Report): void {
  const { data, source } = files.concerns;
  for (const [id, concern] of Object.entries(data.concerns)) {
    const path = ['concerns', id, 'thresholds'];
    const plain = concern.thresholds.filter(({ when }) => when === undefined);
    for (const [at, threshold] of concern.thresholds.entries()) {
      const effects = [threshold.review, threshold.urgent].filter((one) => one !== undefined);
      if (effects.length !== 1) {
        report(
          'rule-effect',
          { source, path: [...path, at] },
          `A threshold of "${id}" needs exactly one of review, urgent.`,
        );
        return;
      }
    }
    const rising = plain.every((threshold, at) => {
      const before = plain[at - 1];
      return (
        before === undefined ||
        (threshold.points > before.points && rank(toThreshold(threshold).to) > rank(toThreshold(before).to))
      );
    });
    if (!rising)
      report(
        'threshold-order',
        { source, path },
        `Thresholds of "${id}" must rise in points and in outcome.`,
      );
  }
  checkCondition(files, data['infection-suspected'], { source, path: ['infection-suspected'], report });
  checkShared(files, report);
}

function checkShared(files: FlowFiles, report: Report): void {
  const shared = new Set(files.concerns.data.shared);
  const homes = new Map<string, string>();
  for (const { data, source } of [...files.topics.values(), ...files.procedures.values()]) {
    for (const [at, rule] of data.rules.entries()) {
      const concern = Object.keys(rule.points ?? {})[0];
      if (concern === undefined) continue;
      for (const { finding } of rule.if.flat()) {
        const home: string = homes.get(finding) ?? concern;
        homes.set(finding, home);
        if (home === concern || shared.has(finding)) continue;
        report(
          'two-concerns',
          { source, path: ['rules', at, 'points'] },
          `"${finding}" gives points to "${home}" and to "${concern}"; one is accepted, or list it under shared.`,
        );
      }
    }
  }
}

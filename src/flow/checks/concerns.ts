/** Checks concerns: thresholds rise, and a finding gives points to one concern unless it is listed as shared. */
import { rank } from '../../clinical/outcome.ts';
import { toThreshold } from '../parts.ts';
import type { FlowFiles } from '../files.ts';
import type { ConcernsFile } from '../schema.ts';
import { checkCondition, type ConditionPlace } from './rules.ts';
import type { Report } from './report.ts';

export function checkConcerns(files: FlowFiles, report: Report): void {
  const { data, source } = files.concerns;
  for (const [id, { thresholds }] of Object.entries(data.concerns)) {
    const place = { source, path: ['concerns', id, 'thresholds'], report };
    if (checkThresholds(files, thresholds, place)) checkRising(id, thresholds, place);
  }
  checkCondition(files, data['infection-suspected'], { source, path: ['infection-suspected'], report });
  checkShared(files, report);
}

type Thresholds = ConcernsFile['concerns'][string]['thresholds'];

/** Each threshold comes to exactly one thing, on a condition that can be read. False when one comes to none or two. */
export function checkThresholds(files: FlowFiles, thresholds: Thresholds, place: ConditionPlace): boolean {
  const { source, report } = place;
  let isWhole = true;
  for (const [at, threshold] of thresholds.entries()) {
    const path = [...place.path, at];
    const effects = (['review', 'urgent'] as const).filter((kind) => threshold[kind] !== undefined);
    if (effects.length !== 1) {
      isWhole = false;
      const stands = effects.length === 0 ? 'neither review nor urgent' : 'review and urgent';
      const message = `The threshold at ${threshold.points} points has ${stands}; exactly one of them is accepted.`;
      report('rule-effect', { source, path }, message);
    }
    if (threshold.when === undefined) continue;
    checkCondition(files, threshold.when, { source, path: [...path, 'when'], report });
  }
  return isWhole;
}

function checkRising(id: string, thresholds: Thresholds, { source, path, report }: ConditionPlace): void {
  const plain = thresholds.filter(({ when }) => when === undefined);
  const rising = plain.every((threshold, at) => {
    const before = plain[at - 1];
    return (
      before === undefined ||
      (threshold.points > before.points && rank(toThreshold(threshold).to) > rank(toThreshold(before).to))
    );
  });
  if (rising) return;
  const points = plain.map((threshold) => threshold.points).join(', ');
  const message = `Thresholds of "${id}" stand at ${points} points; only such that rise in points and in outcome are accepted.`;
  report('threshold-order', { source, path }, message);
}

function checkShared(files: FlowFiles, report: Report): void {
  const shared = new Set(files.concerns.data.shared);
  const homes = new Map<string, string>();
  const written = [...files.topics.values(), ...files.procedures.values(), ...files.surgeons.values()];
  for (const { data, source } of written) {
    for (const [at, rule] of (data.rules ?? []).entries()) {
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

/** A report of proofs as lines to read and as plain JSON. */
import type { Json } from '../basics/json.ts';
import { isProved, PROPERTIES, type Counterexample, type FlowReport, type Proof } from './report.ts';
import { timeText } from './times.ts';

export function reportLines(report: FlowReport): readonly string[] {
  const combinations = report.combinations.toString().replace(/\B(?=(\d{3})+$)/g, ' ');
  return [
    `${report.flow}@${report.hash.slice(0, 12)}  ${isProved(report) ? 'proved' : 'NOT PROVED'}`,
    `  ${String(report.moments)} moments in ${String(report.classes)} classes, ${combinations} combinations of answers at each`,
    ...report.proofs.flatMap(proofLines),
  ];
}

function proofLines({ property, verdict, cases, counterexamples, listed }: Proof): readonly string[] {
  const known = listed.length === 0 ? '' : `, ${String(listed.length)} to know (--json lists them)`;
  return [
    `  ${String(property)}. ${verdict.padEnd(9)} ${PROPERTIES[property]} (${String(cases)} cases${known})`,
    ...counterexamples.map(({ says }) => `       ${says}`),
  ];
}

export function reportJson(report: FlowReport): Json {
  return {
    flow: report.flow,
    hash: report.hash,
    proved: isProved(report),
    moments: report.moments,
    classes: report.classes,
    combinations: report.combinations.toString(),
    properties: report.proofs.map((proof) => ({
      property: proof.property,
      states: PROPERTIES[proof.property],
      verdict: proof.verdict,
      cases: proof.cases,
      counterexamples: proof.counterexamples.map(counterexampleJson),
      listed: proof.listed,
    })),
  };
}

function counterexampleJson({ says, at, findings, atLeast }: Counterexample): Json {
  const least =
    atLeast === null
      ? null
      : { outcome: atLeast.outcome, within: atLeast.within, emergency: atLeast.emergency };
  return { says, at: timeText(at), day: at.day, hours: at.hours, findings: { ...findings }, atLeast: least };
}

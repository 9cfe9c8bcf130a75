/** Every flow file carries cases of its own, findings to outcome, each with its published source; all are run here. */
import { describe, expect, it } from 'vitest';
import { assess } from '../../src/call/assess.ts';
import { freshCircumstances } from '../../src/call/circumstances.ts';
import type { CaseFile } from '../../src/flow/schema.ts';
import { realContent } from '../support/real-flows.ts';

const { library } = realContent();
const files = [...library.files.topics.values(), ...library.files.procedures.values()];
const cases = files.flatMap(({ data, source }) =>
  (data.cases ?? []).map((one) => ({
    one,
    file: source.file,
    home: 'procedure' in data ? data.procedure : null,
  })),
);

describe('the cases that flow files carry', () => {
  it('are there in every topic that scores and in every procedure', () => {
    const without = files.filter(
      ({ data }) =>
        (data.cases ?? []).length === 0 && data.rules.some((rule) => rule['at-least'] === undefined),
    );
    expect(without.map(({ source }) => source.file)).toEqual([]);
    expect(cases.length).toBeGreaterThan(40);
  });

  it.each(cases.flatMap(({ one, file, home }) => proceduresOf(one, home).map((id) => ({ one, file, id }))))(
    '$file: $one.title ($id)',
    ({ one, id }) => {
      const { flow } = library.flowFor([id]);
      const time = { day: one.day, hours: one.hours ?? (one.day > 3 ? one.day * 24 : null) };
      const { outcome, reasons } = assess(flow, freshCircumstances(time), one.findings);
      const why = reasons.map(({ from, to }) => `${from}: ${to.within}`).join('; ');
      expect({ outcome: outcome.outcome, why }).toEqual({ outcome: one.outcome, why });
      if (one.within !== undefined)
        expect({ within: outcome.within, why }).toEqual({ within: one.within, why });
      if (one.emergency !== undefined) expect(outcome.emergency).toBe(one.emergency);
    },
  );
});

/** A topic's case holds on every procedure that uses it, unless it names one. */
function proceduresOf(one: CaseFile, home: string | null): readonly string[] {
  if (one.procedure !== undefined) return [one.procedure];
  return home === null ? library.procedures.slice(0, 2) : [home];
}

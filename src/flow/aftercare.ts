/** Turns a written aftercare plan, kind by kind, into its compiled form. */
import { AFTERCARE_KINDS, type Aftercare } from './compiled.ts';
import type { ProcedureFile } from './schema.ts';

/** One procedure's written plan, kind by kind. */
export function aftercareOf(procedure: string, plan: ProcedureFile['aftercare']): readonly Aftercare[] {
  return AFTERCARE_KINDS.flatMap((kind) =>
    (plan[kind] ?? []).map((one) => ({
      kind,
      procedure,
      window: { days: one.days, hours: one.hours ?? null },
      say: one.say,
      source: one.source,
    })),
  );
}

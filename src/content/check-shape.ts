/** Checks what a file holds against a schema, and says in the file's own terms what does not fit. */
import { z } from 'zod';
import { failed, ok, type Result } from '../basics/result.ts';
import type { Diagnostic } from './diagnostic.ts';
import type { YamlSource } from './read-yaml.ts';
import { zodDiagnostics } from './zod-diagnostics.ts';

export function checkShape<TShape>(
  schema: z.ZodType<TShape>,
  source: YamlSource,
): Result<TShape, readonly Diagnostic[]> {
  const parsed = schema.safeParse(source.data, { error: nameAcceptedKeys });
  return parsed.success ? ok(parsed.data) : failed(zodDiagnostics(parsed.error, source));
}

/** Zod's issue does not carry the keys that a group takes, so they are put into its message here. */
const nameAcceptedKeys: z.core.$ZodErrorMap = (issue) => {
  if (issue.code !== 'unrecognized_keys') return undefined;
  if (issue.inst instanceof z.ZodObject) return `one of ${Object.keys(issue.inst.shape).join(', ')}`;
  if (!(issue.inst instanceof z.ZodRecord)) return undefined;
  const keys = issue.inst.keyType;
  return keys instanceof z.ZodEnum ? `one of ${keys.options.join(', ')}` : undefined;
};

/** Reads and compiles the flows of the folder that a command runs in. */
import type { Result } from '../basics/result.ts';
import type { Diagnostic } from '../content/diagnostic.ts';
import { readFolder } from '../content/read-folder.ts';
import { loadFlows, type FlowLibrary } from '../flow/library.ts';

export function loadLibrary(): Result<FlowLibrary, readonly Diagnostic[]> {
  const texts = readFolder('flows');
  return texts.ok ? loadFlows(texts.value) : texts;
}

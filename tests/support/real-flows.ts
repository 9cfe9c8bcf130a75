/** The flows of this repository, loaded once for a test file; throws with every diagnostic when they do not load. */
import { showDiagnostic } from '../../src/content/diagnostic.ts';
import { loadContent, type Content } from '../../src/server/content.ts';

export function realContent(): Content {
  const content = loadContent('flows');
  if (!content.ok) throw new Error(content.fault.map(showDiagnostic).join('\n'));
  return content.value;
}

/** Command: loads every flow file and says all that is wrong, one line each. */
import { readFolder } from '../content/read-folder.ts';
import { showDiagnostic } from '../content/diagnostic.ts';
import { loadFlows } from '../flow/library.ts';
import { screen } from './screen.ts';

const texts = readFolder('flows');
const library = texts.ok ? loadFlows(texts.value) : texts;
if (!library.ok) {
  for (const diagnostic of library.fault) screen.error(showDiagnostic(diagnostic));
  screen.exit(2);
} else {
  for (const id of [...library.value.procedures, 'general']) {
    const { flow, hash } = library.value.flowFor([id]);
    screen.line(`${id}@${hash.slice(0, 12)}  ${flow.questions.length} questions, ${flow.rules.length} rules`);
  }
}

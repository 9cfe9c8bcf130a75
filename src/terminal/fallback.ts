/** Command: writes the file for the provider's fallback address, from the practice's settings. */
import { writeFileSync } from 'node:fs';
import { Command } from 'commander';
import { showDiagnostic } from '../content/diagnostic.ts';
import { fallbackTwiml } from '../line/fallback.ts';
import { showTelephone } from '../people/show-telephone.ts';
import { loadContent } from '../server/content.ts';
import { voiceOf } from '../server/line-deps.ts';
import { screen } from './screen.ts';

const program = new Command('fallback')
  .argument('[file]', 'where to write it; without it, it is printed')
  .exitOverride((error) => {
    screen.exit(error.exitCode === 0 ? 0 : 2);
    throw error;
  });

function main(): void {
  program.parse();
  const content = loadContent('flows');
  if (!content.ok) {
    for (const diagnostic of content.fault) screen.error(showDiagnostic(diagnostic));
    return screen.exit(2);
  }
  const { practice, lineWords } = content.value;
  const { fallbackTelephone } = practice.line;
  const text = fallbackTwiml({
    words: lineWords,
    voice: voiceOf(content.value),
    practice: practice.name,
    telephone: fallbackTelephone,
    shown: showTelephone(fallbackTelephone, practice.country),
  });
  const [file] = program.args;
  if (file === undefined) return screen.line(text);
  try {
    writeFileSync(file, `${text}\n`);
  } catch {
    screen.error(`${file} cannot be written; a file in a folder that exists is accepted.`);
    screen.exit(2);
  }
}

try {
  main();
} catch (error) {
  if (!(error instanceof Error && error.name === 'CommanderError')) throw error;
}

/** Command: reads JSON lines on standard input and prints what was understood, one JSON object a line. */
import { Command } from 'commander';
import { z } from 'zod';
import { showDiagnostic } from '../content/diagnostic.ts';
import { loadContent, type Content } from '../server/content.ts';
import { understand } from '../understand/understand.ts';
import { writtenScope } from '../understand/written-scope.ts';
import { screen } from './screen.ts';
import { tryPhrase } from './try-phrase.ts';

const program = new Command('understand')
  .option('--json', 'one JSON object a line in, one out (the only form there is)')
  .option('--scope', 'whether a phrase is negated, when it was and whose it is, instead of findings')
  .option('--phrase <words>', 'instead: what this phrase more would change; with --finding and --value')
  .option('--finding <id>', 'the finding that the phrase states')
  .option('--value <value>', 'the value that the phrase states')
  .option('--explain', 'add the words behind each finding and what decided their scope')
  .exitOverride((error) => {
    screen.exit(error.exitCode === 0 ? 0 : 2);
    throw error;
  });

const id = z.union([z.string(), z.number()]);
const utteranceSchema = z.object({
  id,
  text: z.string(),
  asked: z.union([z.string(), z.array(z.string())]).nullish(),
  procedure: z.string().nullish(),
  day: z.number().nullish(),
  confidence: z.number().min(0).max(1).nullish(),
});
const scopeSchema = z.object({ id, text: z.string(), phrase: z.string() });

interface Options {
  readonly json?: true;
  readonly scope?: true;
  readonly explain?: true;
  readonly phrase?: string;
  readonly finding?: string;
  readonly value?: string;
}

async function main(): Promise<void> {
  program.parse();
  const options = program.opts<Options>();
  const content = loadContent('flows');
  if (!content.ok) {
    for (const diagnostic of content.fault) screen.error(showDiagnostic(diagnostic));
    return screen.exit(2);
  }
  if (options.phrase !== undefined) return showPhrase(content.value, options, options.phrase);
  const lines = screen.lines();
  for (let at = 1; ; at += 1) {
    const line = await lines.ask('');
    if (line === null) break;
    if (line.trim() === '') continue;
    const answer = answerTo(content.value, options, line);
    if (answer === null) {
      screen.error(`Line ${String(at)} of the input is no ${options.scope === true ? SCOPE_SHAPE : SHAPE}.`);
      screen.done();
      return screen.exit(2);
    }
    screen.line(JSON.stringify(answer));
  }
  screen.done();
}

/** Prints each text that would be read differently, and how many there are. */
function showPhrase(content: Content, { finding = '', value = '' }: Options, says: string): void {
  const kind = content.library.vocabulary.findings[finding]?.kind;
  const changed = tryPhrase(content, { says, finding, value: kind === 'number' ? Number(value) : value });
  if (changed === null) {
    screen.error(
      '--phrase takes words, --finding an id of findings.yaml and --value a value of it that words can state.',
    );
    return screen.exit(2);
  }
  for (const line of changed) screen.line(line);
  screen.line(`${String(changed.length)} texts are read differently with this phrase.`);
}

/** A call of which only the day is known comes at 10:00. */
const CALL_HOUR = 10;
const SHAPE =
  'JSON object with id, text, asked, procedure, day and, where it was heard, confidence from 0 to 1';
const SCOPE_SHAPE = 'JSON object with id, text and phrase';

/** Null: the line is of another shape, or asks about a finding that does not exist. */
function answerTo(content: Content, options: Options, line: string): object | null {
  const json = parsed(line);
  const { lexicon, library } = content;
  if (options.scope === true) {
    const given = scopeSchema.safeParse(json);
    if (!given.success) return null;
    const { because, ...scope } = writtenScope(lexicon, given.data.text, given.data.phrase);
    return { id: given.data.id, ...scope, ...(options.explain === true ? { because } : {}) };
  }
  const given = utteranceSchema.safeParse(json);
  if (!given.success) return null;
  const { text, asked, procedure, day, confidence } = given.data;
  const ids = asked === null || asked === undefined ? [] : typeof asked === 'string' ? [asked] : asked;
  if (ids.some((one) => library.vocabulary.findings[one] === undefined)) return null;
  const { because, ...understood } = understand(lexicon, library.vocabulary, {
    text,
    asked: asked ?? null,
    procedure: procedure ?? null,
    day: day ?? null,
    hour: CALL_HOUR,
    confidence: confidence ?? 1,
  });
  return { id: given.data.id, ...understood, ...(options.explain === true ? { because } : {}) };
}

function parsed(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    return null;
  }
}

await main();

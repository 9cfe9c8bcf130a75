/** The words of the line (`flows/words/line.yaml`), and how names in braces are filled in. */
import { z } from 'zod';

const text = z.string().trim().min(1).max(600);
const list = z.array(z.string().trim().min(1).max(80)).min(1);
const saying = z.strictObject({ whole: list, within: list });

export const ASIDE_SAYINGS = ['person', 'repeat', 'back', 'wrong', 'keys-only', 'interpreter'] as const;

export const lineWordsSchema = z.strictObject({
  demonstration: text,
  greeting: text,
  recording: text,
  deskOpen: text,
  person: text,
  keys: text,
  yesNo: text,
  choice: text,
  unsure: text,
  number: text,
  numberKeys: text,
  tenths: text,
  zeroTwice: text,
  telephone: text,
  sorry: text,
  quiet: text,
  again: text,
  readBack: text,
  readBackKeys: text,
  groupNo: text,
  born: text,
  bornAgain: text,
  someoneElse: text,
  opening: text,
  openingShort: text,
  operation: text,
  operationOnly: text,
  operationKeys: text,
  operationChoice: text,
  operationOther: text,
  day: text,
  byKeys: text,
  notSaid: text,
  handoverSoon: text,
  reviewBy: text,
  saidBack: text,
  saidBackAgain: text,
  textOffer: text,
  goodbye: text,
  goodbyeDemonstration: text,
  connecting: text,
  nobody: text,
  emergencyEnd: text,
  emergencyNobody: text,
  silent: text,
  broken: text,
  brokenEnd: text,
  mayNotAdvise: text,
  whisper: z.strictObject({
    greeting: text,
    emergency: text,
    now: text,
    hour: text,
    accept: text,
    accepted: text,
    refused: text,
    desk: text,
  }),
  /** Choices by key for what is only written down, by fact. */
  facts: z.record(z.string(), list),
  asides: z.record(z.enum(ASIDE_SAYINGS), saying),
  yes: list,
  no: list,
  /** How callers name an operation, by procedure; the first is how the list says it. */
  procedures: z.record(z.string(), list),
});
export type LineWords = z.infer<typeof lineWordsSchema>;

/** A name that nothing fills is a defect: a caller would hear it. */
export function filled(words: string, values: Readonly<Record<string, string>>): string {
  return words.replace(/\{([a-z]+)\}/gi, (_all, name: string) => {
    const value = values[name];
    if (value === undefined) throw new Error(`Nothing fills ${name} in the words of the line`);
    return value;
  });
}

/** Which passwords are taken: long ones that do not say who or where (ASVS 4.0.3, 2.1; no rule on kinds of letters). */
import { PASSWORD_LENGTH } from './auth.ts';
import { WORDS } from './words.ts';

const LEAST_DIFFERENT = 5;

/** What is wrong with it, in one sentence; null when nothing is. */
export function wrongWith(password: string, known: readonly string[]): string | null {
  const length = [...password].length;
  if (length < PASSWORD_LENGTH.least || length > PASSWORD_LENGTH.most) return WORDS.password.length;
  const folded = fold(password);
  const says = known.flatMap((text) => fold(text).split(/[^\p{L}\p{N}]+/u)).filter((word) => word.length > 4);
  if (says.some((word) => folded.includes(word))) return WORDS.password.says;
  return new Set(folded).size < LEAST_DIFFERENT ? WORDS.password.same : null;
}

function fold(text: string): string {
  return text.normalize('NFKC').toLowerCase();
}

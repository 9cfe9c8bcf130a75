/** Makes text fit to be spoken: numbers digit by digit where they are dialled, no characters that stop a speech. */

/** Google's voices take 5,000, basic ones 4,096, Polly 3,000; shorter pieces fit all of them. */
const MOST = 900;

/** Digits with blanks are read one by one. */
export function digitByDigit(number: string): string {
  return [...number.replace(/\D/g, '')].join(' ');
}

export interface Pronounce {
  /** How the emergency number is said. */
  readonly emergency: string;
}

const DIALLED = /(?<![\d.])\+?\d[\d -]{5,}\d(?![\d.])/g;

export function speakable(text: string, { emergency }: Pronounce): string {
  return text
    .normalize('NFC')
    .replace(/[\p{Cc}\p{Cs}\p{Co}\p{Cn}]/gu, ' ')
    .replace(/\bthe emergency number\b(?=\s*[.,;:!?]|$)/gi, `the emergency number, ${emergency}`)
    .replace(/\bthe emergency number\b(?!, \d)/gi, `the emergency number, ${emergency},`)
    .replace(DIALLED, digitByDigit)
    .replace(/(\d)\.(\d)/g, '$1 point $2')
    .replace(/(\d)\s*°\s*C?/g, '$1 degrees')
    .replace(/(\d)\s*ml\b/g, '$1 millilitres')
    .replace(/(\d)\s*cm\b/g, '$1 centimetres')
    .replace(/(\d)\s*mg\b/g, '$1 milligrams')
    .replace(/(\d)\s*h\b/g, '$1 hours')
    .replace(/\s+/g, ' ')
    .trim();
}

/** Whole sentences, so that no piece is longer than a voice takes; what is empty is left out. */
export function pieces(text: string): readonly string[] {
  const sentences = text.split(/(?<=[.!?])\s+/);
  const whole: string[] = [];
  for (const sentence of sentences) {
    const last = whole.at(-1);
    if (last !== undefined && last.length + sentence.length < MOST)
      whole[whole.length - 1] = `${last} ${sentence}`;
    else whole.push(sentence);
  }
  return whole.flatMap((piece) => piece.match(new RegExp(`.{1,${MOST}}`, 'gsu')) ?? []);
}

/** The one form in which names are compared, so that what is typed finds what was kept. */

/** Letters with a stroke or joined letters have no accent to drop; passports write them so (ICAO Doc 9303-3). */
const WITHOUT_ACCENT: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  œ: 'oe',
  ø: 'o',
  đ: 'd',
  ð: 'd',
  ħ: 'h',
  ı: 'i',
  ł: 'l',
  þ: 'th',
};

/** Lower-case letters only, without accents, spaces, hyphens, apostrophes; folding twice changes nothing. */
export function foldName(text: string): string {
  return text
    .normalize('NFKD')
    .toLowerCase()
    .normalize('NFKD')
    .replace(/[ßæœøđðħıłþ]/g, (letter) => WITHOUT_ACCENT[letter] ?? letter)
    .replace(/[^\p{L}]/gu, '');
}

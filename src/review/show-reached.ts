/** Who was rung or texted, when and how, and what came of it, as lines of text. */
import { plainText, quoted, showActor, showTime } from './show-parts.ts';
import type { ReachLine } from './view.ts';
import { WORDS } from './words.ts';

export function showReached(zone: string): (line: ReachLine) => string {
  return (line) => {
    const when = `${showTime(line.at, zone)}  ${showActor(line.by)}`;
    switch (line.kind) {
      case 'attempt': {
        const whom = line.staff === null ? '' : `, ${plainText(line.staff)}`;
        const rung = line.rung === null ? '' : ` (${WORDS.rungs[line.rung]})`;
        return `${when}  ${WORDS.tried[line.what]}${whom}${rung}: ${WORDS.came[line.came]}`;
      }
      case 'promise':
        return `${when}  ${WORDS.promises[line.promise]}: ${WORDS.results[line.result]}; ${quoted(line.text)}`;
    }
  };
}

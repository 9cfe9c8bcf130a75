/** Leaves out what one thing that was said makes untrue or superfluous of another, and adds what it makes certain. */
import { UNSURE, type FindingId, type FindingValue, type Vocabulary } from '../clinical/finding.ts';
import type { Word } from './fold-words.ts';
import type { Candidate } from './gather.ts';
import { isDanger } from './read-aloud-policy.ts';
import type { Settled } from './settle.ts';

/** A nose that bleeds on under firm pressure for fifteen minutes bleeds heavily (practice rule: nose fifteen). */
const NOSE_MINUTES = 15;
const STOPPED: ReadonlySet<string> = new Set(['stopped', 'stops', 'dry', 'settled', 'dried']);
const NOT: ReadonlySet<string> = new Set(['not', 'hasnt', 'never', 'havent', 'didnt', 'no', 'isnt']);

type ValueOf = (id: FindingId) => FindingValue | null | undefined;

export function withoutEchoes(settled: readonly Settled[]): readonly Settled[] {
  const value: ValueOf = (id) => settled.find((one) => one.id === id)?.value;
  const isDangerSaid = settled.some((one) => isDanger(one.spec) && one.value === 'yes');
  return settled.filter((one) => !isEcho(one, value) && !(isDangerSaid && isIdle(one)));
}

/** "I can't tell, the blood is pouring": what was asked does not matter beside the danger. */
function isIdle({ spec, value, id, behind }: Settled): boolean {
  const isBare = behind.every(({ says }) => says === '');
  return value === UNSURE && isBare && !isDanger(spec) && id !== 'temperature';
}

function isEcho({ id, value: said, behind }: Settled, value: ValueOf): boolean {
  // "I've a temperature, 38.5": the number says it.
  if (id === 'feels-feverish')
    return typeof value('temperature') === 'number' && said === 'yes' && behind.every(isOfFever);
  // A drain that came out is not in.
  if (id === 'drain-in') return value('drain-pulled-out') === 'yes' && value('drain-ml-24h') === undefined;
  // A rash in the shape of the tape is the tape's.
  if (id === 'rash-or-hives') return value('tape-rash') !== undefined && value('rash-serious') !== 'yes';
  // "I fell down in a faint."
  return id === 'fall-or-knock' && value('collapse') === 'yes';
}

function isOfFever({ says }: Candidate): boolean {
  return says.includes('fever') || says.includes('temperature') || says.includes('flu');
}

/** Heavy bleeding from a nose that was pinched for so long and has not stopped; null: nothing of the kind was said. */
export function longNosebleed(
  vocabulary: Vocabulary,
  said: readonly Candidate[],
  words: readonly Word[],
): Candidate | null {
  const minutes = said.find(({ finding }) => finding === 'nose-bleed-minutes');
  if (minutes === undefined || vocabulary.findings['bleeding-heavy'] === undefined) return null;
  const hasStopped = words.some(
    ({ text }, at) =>
      STOPPED.has(text) && !words.slice(Math.max(0, at - 2), at).some((one) => NOT.has(one.text)),
  );
  if (typeof minutes.value !== 'number' || minutes.value < NOSE_MINUTES || hasStopped) return null;
  return {
    ...minutes,
    finding: 'bleeding-heavy',
    value: 'yes',
    rank: 1,
    because: ['fifteen minutes and more'],
  };
}

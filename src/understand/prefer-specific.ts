/** Leaves out what a general finding reads into words that speak of a more specific one ("my calf is swollen"). */
import type { FindingId } from '../clinical/finding.ts';
import type { Word } from './fold-words.ts';
import type { Hit } from './match-phrases.ts';

const GENERAL: ReadonlySet<FindingId> = new Set([
  'swelling',
  'swelling-tense',
  'swelling-within-hours',
  'redness',
  'wound-hot',
  'numbness',
  'discharge',
  'rash-or-hives',
  'pain-score',
  'skin-colour',
  'feels-feverish',
  'bruise-spreading-fast',
]);
/** Findings whose answers are said in words of more general ones. */
const NAMED: readonly FindingId[] = [
  'face-or-tongue-swelling',
  'neck-tight-or-voice-change',
  'scrotal-swelling',
  'one-leg-swollen',
  'whole-leg-swollen',
  'calf-pain',
  'nose-bleed-minutes',
  'eye-pain-severe',
  'belly-pain-severe',
  'pain-stretching-fingers',
  'bladder-painful',
  'leg-warm-or-red',
  'chest-pain',
  'finger-numbness-worse',
];
const OF_LEGS: ReadonlySet<FindingId> = new Set(['one-leg-swollen', 'calf-pain', 'leg-warm-or-red']);
const LEG_FOR: ReadonlyMap<FindingId, FindingId> = new Map([
  ['swelling', 'one-leg-swollen'],
  ['wound-hot', 'leg-warm-or-red'],
  ['redness', 'leg-warm-or-red'],
]);

export function preferSpecific(
  hits: readonly Hit[],
  words: readonly Word[],
  asked: readonly FindingId[],
): readonly Hit[] {
  const isAskedSpecific = asked.length > 0;
  return hits
    .map((hit) => ofTheLeg(hit, hits, words))
    .filter((hit) => {
      const { finding } = hit.phrase;
      if (!GENERAL.has(finding) || asked.includes(finding)) return true;
      // "No swelling there" answers what was asked.
      if (hit.phrase.value === null && isAskedSpecific && NAMED.some((id) => asked.includes(id)))
        return false;
      const clause = words[hit.start]?.clause;
      if (isAskedSpecific && clause === 0 && hits.some((other) => isAskedIn(other, words, asked)))
        return false;
      return !hits.some((other) => {
        if (GENERAL.has(other.phrase.finding) || other.phrase.value === null) return false;
        if (isReassuringOf(other) && !OF_LEGS.has(other.phrase.finding)) return false;
        return other.core.start < hit.core.end && hit.core.start < other.core.end;
      });
    });
}

/** "The scar is fine" says nothing against the redness round it. */
function isReassuringOf({ phrase }: Hit): boolean {
  return phrase.value === 'no';
}

/** In a sentence about a leg, what is swollen or hot is the leg. */
function ofTheLeg(hit: Hit, hits: readonly Hit[], words: readonly Word[]): Hit {
  const meant = LEG_FOR.get(hit.phrase.finding);
  if (meant === undefined || hit.phrase.value === 'even') return hit;
  const sentence = words[hit.start]?.sentence;
  const isOfLeg = hits.some(
    (other) => OF_LEGS.has(other.phrase.finding) && words[other.start]?.sentence === sentence,
  );
  const value = hit.phrase.value === null ? null : hit.phrase.value === 'none' ? 'no' : 'yes';
  return isOfLeg ? { ...hit, phrase: { ...hit.phrase, finding: meant, value, denied: 'no', rank: 1 } } : hit;
}

function isAskedIn(other: Hit, words: readonly Word[], asked: readonly FindingId[]): boolean {
  return asked.includes(other.phrase.finding) && words[other.start]?.clause === 0;
}

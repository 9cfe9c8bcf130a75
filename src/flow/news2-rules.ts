/** NEWS2 as rules of a flow, made from the published table, so that scoring and proof read the same rows. */
import type { Condition, Test } from '../clinical/finding.ts';
import {
  NEWS_CONSCIOUSNESS,
  NEWS_OXYGEN,
  NEWS_SATURATION,
  NEWS_TABLE,
  type NewsBand,
} from '../clinical/news2.ts';
import { EMERGENCY, WITHIN_THE_HOUR } from '../clinical/outcome.ts';
import { ALL_DAYS } from '../clinical/window.ts';
import type { Concern, Rule } from './compiled.ts';
import type { WordsFile } from './schema.ts';

const NEWS2_CONCERN = 'news2';
type Words = WordsFile['news2'];

/** By telephone the total is "at least N": it raises and never lowers. Emergency at 5 needs a suspected infection. */
export function news2Concern(infectionSuspected: Condition, words: Words): Concern {
  return {
    id: NEWS2_CONCERN,
    title: words.title,
    clinicianNeeds: words['clinician-needs'],
    thresholds: [
      { points: 5, to: WITHIN_THE_HOUR, when: null },
      { points: 5, to: EMERGENCY, when: infectionSuspected },
      { points: 7, to: EMERGENCY, when: null },
    ],
    because: words.because,
    source: words.source,
  };
}

export function news2Rules(words: Words): readonly Rule[] {
  const tables: readonly (readonly [string, readonly NewsBand[]])[] = [
    ...Object.entries(NEWS_TABLE),
    ['oxygen-saturation', NEWS_SATURATION.scale1],
  ];
  return [
    ...tables.flatMap(([finding, bands]) =>
      bands.flatMap((band, at) => bandRules({ finding, at, words }, band)),
    ),
    pointsRule({ id: 'news2-on-oxygen', if: [[yes('on-oxygen')]], points: NEWS_OXYGEN.oxygen }, words),
    pointsRule(
      {
        id: 'news2-consciousness',
        if: [[yes('new-confusion')], [yes('hard-to-wake')]],
        points: NEWS_CONSCIOUSNESS['new-confusion'],
      },
      words,
    ),
  ];
}

function yes(finding: string): Test {
  return { finding, in: ['yes'] };
}

interface Place {
  readonly finding: string;
  readonly at: number;
  readonly words: Words;
}

function bandRules(place: Place, band: NewsBand): readonly Rule[] {
  if (band.points === 0) return [];
  const condition: Condition = [bandTests(place.finding, band)];
  const rule = pointsRule(
    { id: `news2-${place.finding}-${place.at}`, if: condition, points: band.points },
    place.words,
  );
  return band.points === 3 ? [rule, singleThree(place, condition)] : [rule];
}

function bandTests(finding: string, band: NewsBand): readonly Test[] {
  return [
    ...(band.atLeast === null ? [] : [{ finding, atLeast: band.atLeast }]),
    ...(band.atMost === null ? [] : [{ finding, atMost: band.atMost }]),
  ];
}

interface Scored {
  readonly id: string;
  readonly if: Condition;
  readonly points: number;
}

function pointsRule(scored: Scored, words: Words): Rule {
  return {
    id: scored.id,
    topic: NEWS2_CONCERN,
    if: scored.if,
    window: ALL_DAYS,
    effect: { kind: 'points', concern: NEWS2_CONCERN, points: scored.points },
    because: words.because,
    source: words.source,
  };
}

function singleThree({ finding, at, words }: Place, condition: Condition): Rule {
  return {
    id: `news2-single-three-${finding}-${at}`,
    topic: NEWS2_CONCERN,
    if: condition,
    window: ALL_DAYS,
    effect: {
      kind: 'red-flag',
      concern: NEWS2_CONCERN,
      to: WITHIN_THE_HOUR,
      seenAt: 'emergency-department',
      untilSeen: words['until-seen'],
      harmlessOutside: null,
    },
    because: words['single-three'],
    source: words.source,
  };
}

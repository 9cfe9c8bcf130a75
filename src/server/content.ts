/** Everything that stands in `flows/`, loaded at once: flows, phrases, hazards, practice, places, and the demo's people. */
import { failed, ok, type Result } from '../basics/result.ts';
import { checkShape } from '../content/check-shape.ts';
import type { Diagnostic } from '../content/diagnostic.ts';
import { readFolder, type TextFile } from '../content/read-folder.ts';
import { readYaml } from '../content/read-yaml.ts';
import { approvalsSchema, type Approval } from '../flow/approvals.ts';
import { readHazards } from '../flow/hazards.ts';
import { loadFlows, type FlowLibrary } from '../flow/library.ts';
import { readPhrases } from '../flow/phrases.ts';
import { lineWordsSchema, type LineWords } from '../line/words.ts';
import { messageWordsSchema, type MessageWords } from '../follow/message-words.ts';
import type { Lexicon } from '../understand/lexicon.ts';
import { demoPeopleSchema, type DemoPeople } from '../people/demo.ts';
import { placeSchema, type Place } from '../people/places.ts';
import { practiceSchema, type Practice } from '../people/practice.ts';
import type { z } from 'zod';

export interface Content {
  readonly library: FlowLibrary;
  readonly lexicon: Lexicon;
  readonly lexiconHash: string;
  readonly practice: Practice;
  readonly place: Place;
  readonly demo: DemoPeople;
  /** The signatures as they stand at this moment. */
  readonly approvals: () => readonly Approval[];
  readonly lineWords: LineWords;
  readonly messageWords: MessageWords;
}

/** All that is wrong in any file, or everything; nothing is half loaded. */
export function loadContent(folder: string): Result<Content, readonly Diagnostic[]> {
  const texts = readFolder(folder);
  if (!texts.ok) return texts;
  const library = loadFlows(texts.value);
  const practice = readOne(texts.value, 'practice.yaml', practiceSchema);
  const demo = readOne(texts.value, 'demo/people.yaml', demoPeopleSchema);
  const approvals = readOne(texts.value, 'approvals.yaml', approvalsSchema);
  const lineWords = readOne(texts.value, 'words/line.yaml', lineWordsSchema);
  const messageWords = readOne(texts.value, 'words/messages.yaml', messageWordsSchema);
  const places = texts.value
    .filter(({ below }) => below.startsWith('places/'))
    .map(({ below }) => readOne(texts.value, below, placeSchema));
  const hazards = checkHazards(texts.value);
  const lexicon = library.ok ? readPhrases(texts.value, library.value.vocabulary) : library;
  const problems = [
    library,
    practice,
    demo,
    approvals,
    lexicon,
    lineWords,
    messageWords,
    hazards,
    ...places,
  ].flatMap((one) => (one.ok ? [] : one.fault));
  if (!library.ok || !practice.ok || !demo.ok || !approvals.ok || !lexicon.ok || !lineWords.ok) {
    return failed([...new Set(problems)]);
  }
  if (problems.length > 0) {
    return failed([...new Set(problems)]);
  }
  if (!messageWords.ok) return messageWords;
  const known = places.flatMap((place) => (place.ok ? [place.value] : []));
  const place = known.find(({ country }) => country === practice.value.country);
  if (place === undefined) return failed([noPlace(practice.value.country)]);
  return ok({
    library: library.value,
    lexicon: lexicon.value.lexicon,
    lexiconHash: lexicon.value.hash,
    practice: practice.value,
    place,
    demo: demo.value,
    approvals: () => approvals.value.approvals,
    lineWords: lineWords.value,
    messageWords: messageWords.value,
  });
}

/** Nobody runs scripts whose hazard list cannot be read. */
function checkHazards(texts: readonly TextFile[]): Result<unknown, readonly Diagnostic[]> {
  const file = texts.find(({ below }) => below === 'hazards.yaml');
  return file === undefined ? failed([missing('hazards.yaml')]) : readHazards(file);
}

function readOne<TData>(
  texts: readonly TextFile[],
  below: string,
  schema: z.ZodType<TData>,
): Result<TData, readonly Diagnostic[]> {
  const file = texts.find((text) => text.below === below);
  if (file === undefined) return failed([missing(below)]);
  const source = readYaml(file.file, file.text);
  return source.ok ? checkShape(schema, source.value) : source;
}

function missing(file: string): Diagnostic {
  const message = `The file ${file} is missing; every practice needs one.`;
  return { code: 'unreadable', severity: 'error', file, line: 1, path: [], message };
}

function noPlace(country: string): Diagnostic {
  const message = `No file of places/ is for country ${country}; one of its own is accepted.`;
  return {
    code: 'wrong-shape',
    severity: 'error',
    file: 'practice.yaml',
    line: 1,
    path: ['country'],
    message,
  };
}

/** Reads a document as the provider does (XML by saxes), and refuses everything that it would drop, warn of or stumble on. */
import { SaxesParser } from 'saxes';
import { ON_DIALLED_LEG, VERBS } from './grammar.ts';

export interface Verb {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly Verb[];
  readonly text: string;
}

interface Growing {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Growing[];
  text: string;
}

/** Documented as 64 kB; the smaller reading of it. */
const MOST_BYTES = 64_000;
/** Characters of one Say: Polly's limit, and that of the text once it is encoded for a URL. */
const LONGEST_SAY = 3000;
const LONGEST_ENCODED = 4500;

export type Leg = 'caller' | 'dialled';

/** Throws with what is wrong; whatever a document ends on must be an end that somebody meant. */
export function readDocument(xml: string, leg: Leg): readonly Verb[] {
  if (Buffer.byteLength(xml) > MOST_BYTES) refuse('a document above 64 kB');
  if (/^\s/.test(xml)) refuse('something before the first tag');
  const roots = parsed(xml);
  const [response] = roots;
  if (response === undefined || response.name !== 'Response' || roots.length > 1) {
    return refuse('a root other than one Response');
  }
  const verbs = response.children;
  checkVerb(response);
  checkOrder(verbs);
  checkEnd(verbs, leg);
  return verbs;
}

function refuse(what: string): never {
  throw new Error(`The provider would stumble on ${what}`);
}

function parsed(xml: string): readonly Growing[] {
  const roots: Growing[] = [];
  const open: Growing[] = [];
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ name, attributes }) => {
    const verb: Growing = { name, attributes: { ...attributes }, children: [], text: '' };
    (open.at(-1)?.children ?? roots).push(verb);
    open.push(verb);
  });
  parser.on('closetag', () => open.pop());
  parser.on('text', (text) => {
    const verb = open.at(-1);
    if (verb !== undefined) verb.text += text;
  });
  parser.write(xml).close();
  return roots;
}

function checkVerb(verb: Verb): void {
  const { name, attributes, children, text } = verb;
  const rule = VERBS[name];
  if (rule === undefined) return refuse(`the unknown verb ${name}`);
  for (const [key, value] of Object.entries(attributes)) {
    const check = rule.attributes[key];
    if (check === undefined) refuse(`the unknown attribute ${key} of ${name}`);
    else if (!check(value)) refuse(`${key}="${value.slice(0, 80)}" of ${name}`);
  }
  for (const key of rule.required) if (attributes[key] === undefined) refuse(`a ${name} without ${key}`);
  if (!rule.text && text.trim() !== '') refuse(`words directly in ${name}`);
  if (rule.text && text.trim() === '') refuse(`an empty ${name}`);
  if (name === 'Say') checkSay(text);
  if (name === 'Gather') checkGather(attributes);
  if (name === 'Dial' && children.length === 0) refuse('a Dial that rings nobody');
  for (const child of children) {
    if (!rule.children.includes(child.name)) refuse(`${child.name} in ${name}`);
    checkVerb(child);
  }
}

function checkSay(text: string): void {
  if (text.length > LONGEST_SAY) refuse('a Say above the limit of its voice');
  if (encodeURIComponent(text).length > LONGEST_ENCODED) refuse('a Say above the limit once encoded');
  if (/[{}]|undefined|\[object|\bNaN\b/.test(text)) refuse(`a Say with a gap in it: ${text.slice(0, 80)}`);
}

function checkGather(attributes: Verb['attributes']): void {
  const isSpeech = attributes['input']?.includes('speech') === true;
  if (attributes['actionOnEmptyResult'] !== 'true') refuse('a Gather that a silent caller falls through');
  if (attributes['speechModel'] !== undefined && attributes['speechTimeout'] === 'auto') {
    refuse('speechTimeout auto with a speechModel');
  }
  if (isSpeech && attributes['profanityFilter'] !== 'false')
    refuse('a filter that masks words of the caller');
}

/** What stands behind these is never reached. */
const LAST = new Set(['Redirect', 'Hangup', 'Gather', 'Dial', 'Record']);

function checkOrder(verbs: readonly Verb[]): void {
  // A Gather or Dial takes over through its action; only a spoken end may follow, for a provider that does not ask.
  const first = verbs.findIndex(({ name }) => name === 'Redirect' || name === 'Hangup');
  if (first >= 0 && first < verbs.length - 1) refuse('verbs behind a Redirect or Hangup');
  if (verbs[0]?.name === 'Pause') refuse('a Pause that delays picking up');
}

function checkEnd(verbs: readonly Verb[], leg: Leg): void {
  if (leg === 'dialled') {
    const wrong = verbs.find(({ name }) => !ON_DIALLED_LEG.has(name));
    if (wrong !== undefined) refuse(`${wrong.name} on the leg that is dialled`);
    return;
  }
  const last = verbs.at(-1);
  if (last === undefined) refuse('an empty Response, which hangs up on the caller');
  if (verbs.some(({ name }) => LAST.has(name))) return;
  refuse('a document that runs out, which hangs up on the caller');
}

/** Everything that is spoken, in order. */
export function spoken(verbs: readonly Verb[]): string {
  return verbs
    .flatMap(({ name, text, children }) => (name === 'Say' ? [text.trim()] : [spoken(children)]))
    .filter((text) => text !== '')
    .join(' ');
}

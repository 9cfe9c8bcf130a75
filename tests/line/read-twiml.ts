/** Reads an answer of the line as a tree, with the XML parser that is used by others (saxes). */
import { SaxesParser } from 'saxes';

export interface Verb {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly Verb[];
  readonly text: string;
}

interface Growing {
  name: string;
  attributes: Record<string, string>;
  children: Growing[];
  text: string;
}

/** The verbs below `<Response>`; throws on what is not well-formed. */
export function readTwiml(xml: string): readonly Verb[] {
  const root: Growing = { name: '', attributes: {}, children: [], text: '' };
  const open: Growing[] = [root];
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ name, attributes }) => {
    const verb: Growing = { name, attributes: { ...attributes }, children: [], text: '' };
    open.at(-1)?.children.push(verb);
    open.push(verb);
  });
  parser.on('closetag', () => open.pop());
  parser.on('text', (text) => {
    const verb = open.at(-1);
    if (verb !== undefined) verb.text += text;
  });
  parser.write(xml).close();
  const [response] = root.children;
  if (response?.name !== 'Response') throw new Error('No Response stands at the top');
  return response.children;
}

/** Everything that is spoken, in order. */
export function spokenIn(verbs: readonly Verb[]): string {
  return verbs
    .flatMap(({ name, text, children }) => (name === 'Say' ? [text] : [spokenIn(children)]))
    .filter((text) => text !== '')
    .join(' ');
}

/** Changes one list of a YAML file and leaves every comment and every other line as it stands. */
import { isMap, isSeq, parseDocument, Scalar, YAMLMap } from 'yaml';

export interface ListChange {
  /** Entries to put at the end; texts that could be read as something else are quoted. */
  readonly add: readonly Readonly<Record<string, string>>[];
  /** Keys to set in entries that are there already, by their place. */
  readonly set: readonly { readonly at: number; readonly key: string; readonly value: string }[];
}

/** The new text of the file. The list must be there; a file that was read through a schema before has it. */
export function changeList(text: string, list: string, { add, set }: ListChange): string {
  const document = parseDocument(text, { version: '1.2' });
  const node = document.get(list);
  if (!isSeq(node)) throw new Error(`The file has no list "${list}".`);
  for (const { at, key, value } of set) {
    const entry = node.get(at);
    if (!isMap(entry)) throw new Error(`The list "${list}" has no entry ${String(at)}.`);
    entry.set(key, quoted(value));
  }
  for (const entry of add) {
    const made = new YAMLMap();
    for (const [key, value] of Object.entries(entry)) made.set(key, quoted(value));
    node.add(made);
  }
  if (add.length > 0) node.flow = false;
  return document.toString({ lineWidth: 0, singleQuote: true });
}

function quoted(value: string): Scalar {
  const node = new Scalar(value);
  node.type = Scalar.QUOTE_SINGLE;
  return node;
}

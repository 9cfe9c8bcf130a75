/** Somebody with the complaint of a demo call, who answers what is heard, by keys or in words, and knows only the published words. */
import { UNSURE, type FindingValue } from '../../../src/clinical/finding.ts';

import type { CompiledFlow, Question } from '../../../src/flow/compiled.ts';
import type { DemoCall } from '../../../src/terminal/demo-call.ts';
import type { Call } from './call.ts';

export interface Means {
  readonly by: 'keys' | 'speech';
  /** Eight digits: day, month, year. */
  readonly born: string;
  /** What the list on the line calls it. */
  readonly operation: string;
  /** The scripts that may be asked from: the operation's own first. */
  readonly flows: readonly CompiledFlow[];
}

const MOST_TURNS = 90;

const plain = (text: string): string =>
  text
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, ' ')
    .trim();

/** Until the line no longer asks, or the caller is asked to say the safety-net back. */
export async function talk(call: Call, demo: DemoCall, means: Means): Promise<void> {
  const caller = new DemoCaller(call, demo, means);
  while (call.isAsked) {
    if (call.turns > MOST_TURNS) throw new Error(`It does not end: ${call.heard.slice(-3).join(' | ')}`);
    await caller.answer();
  }
}

class DemoCaller {
  readonly #call: Call;
  readonly #demo: DemoCall;
  readonly #means: Means;
  readonly #answered = new Set<string>();
  #last: Question | null = null;

  constructor(call: Call, demo: DemoCall, means: Means) {
    this.#call = call;
    this.#demo = demo;
    this.#means = means;
  }

  async answer(): Promise<void> {
    const heard = plain(this.#call.said);
    const question = this.#recognised(heard);
    if (question !== null && question.fact === null) {
      this.#last = question;
      return await this.#settle(question);
    }
    if (heard.includes('is that right')) return await this.#press('1');
    if (heard.includes('date of birth')) return await this.#press(this.#means.born);
    if (heard.includes('what worries you now')) return await this.#open();
    if (heard.includes('when you would ring again') || heard.includes('one sign'))
      return await this.#press('1');
    if (heard.includes('key the number of the operation')) return await this.#press(this.#listed());
    if (heard.includes('which operation was it')) return await this.#nameOperation();
    if (heard.includes('yourself now')) return await this.#press('1');
    if (heard.includes('as a text')) return await this.#press('2');
    if (heard.includes('key the number and press hash'))
      return await this.#press(`0${this.#call.from.slice(3)}#`);
    if (question !== null) return await this.#press('1');
    if (this.#last !== null && heard.includes('press 1 for yes')) return await this.#settle(this.#last);
    throw new Error(`The caller does not know what is asked: ${this.#call.said}`);
  }

  /** The question whose words end what was heard; the longest where several do. */
  #recognised(heard: string): Question | null {
    for (const { flow } of this.#means.flows) {
      // Where it was not known, it is put once more in full.
      const found = flow.questions
        .flatMap((question) =>
          [question.spoken, question.words].map((said) => ({ question, said: plain(said) })),
        )
        .filter(({ said }) => heard.includes(said))
        .toSorted((a, b) => b.said.length - a.said.length);
      if (found[0] !== undefined) return found[0].question;
    }
    return null;
  }

  async #press(keys: string): Promise<void> {
    await this.#call.press(keys);
  }

  async #open(): Promise<void> {
    const { opening } = this.#demo;
    if (this.#means.by === 'keys' || opening === undefined) await this.#call.press('1');
    else await this.#call.say(opening.trim());
  }

  async #nameOperation(): Promise<void> {
    if (this.#means.by === 'keys') await this.#call.press('#');
    else await this.#call.say(`it was ${this.#means.operation}`);
  }

  /** The key that the list just gave for the operation. */
  #listed(): string {
    const listed = [...this.#call.said.matchAll(/(\d+), ([^.]+)\./g)];
    const found = listed.find(([, , name]) => name === this.#means.operation)?.[1];
    if (found === undefined) throw new Error(`The list leaves out ${this.#means.operation}`);
    return `${found}#`;
  }

  async #settle(question: Question): Promise<void> {
    const value = this.#valueFor(question);
    if (this.#means.by === 'speech' && this.#call.takesSpeech)
      await this.#call.say(this.#wordsFor(question, value));
    else await this.#call.press(this.#keysFor(question, value));
  }

  #valueFor(question: Question): FindingValue {
    const open = question.findings.filter((id) => !this.#answered.has(id));
    const [first] = question.findings;
    if (question.kind === 'group' || first === undefined) {
      const worrying = open.some((id) => this.#isWorrying(id));
      if (!worrying) for (const id of open) this.#answered.add(id);
      return worrying ? 'yes' : 'no';
    }
    this.#answered.add(first);
    return this.#fact(first);
  }

  #spec(id: string) {
    const spec = this.#means.flows.map(({ flow }) => flow.findings[id]).find((one) => one !== undefined);
    if (spec === undefined) throw new Error(`No finding ${id}`);
    return spec;
  }

  #isWorrying(id: string): boolean {
    const { normal } = this.#spec(id);
    const given = this.#demo.facts?.[id];
    return given !== undefined && given !== normal;
  }

  #fact(id: string): FindingValue {
    const { normal, optional } = this.#spec(id);
    return this.#demo.facts?.[id] ?? (optional ? UNSURE : normal);
  }

  #isNumber({ kind, findings: [id = ''] }: Question): boolean {
    return kind === 'finding' && this.#spec(id).kind === 'number';
  }

  #wordsFor(question: Question, value: FindingValue): string {
    if (value === UNSURE) return "I don't know";
    if (question.kind === 'group') return value === 'yes' ? 'yes' : 'no, none of those';
    if (value === 'yes' || value === 'no' || typeof value === 'number') return String(value);
    return question.answers.find((one) => one.value === value)?.label ?? value;
  }

  #keysFor(question: Question, value: FindingValue): string {
    if (this.#isNumber(question)) {
      if (typeof value !== 'number') return '**#';
      return value === 0 ? '00#' : `${String(Number.isInteger(value) ? value : Math.round(value * 10))}#`;
    }
    const label =
      question.answers.find((one) => one.value === value)?.label ?? (value === UNSURE ? 'I do not know' : '');
    const said = /Press (\d) for (?:yes|no)/.test(this.#call.said) ? null : this.#keyNamed(label);
    return said ?? { yes: '1', no: '2' }[String(value)] ?? this.#keyByPlace(question, value);
  }

  /** The key that the line just gave for it. */
  #keyNamed(label: string): string | null {
    const wanted = plain(label);
    const named = [...this.#call.said.matchAll(/Press (\d) for ([^.]+)\./g)];
    return named.find(([, , words = '']) => plain(words) === wanted)?.[1] ?? null;
  }

  /** Without its name: in the order of the choices, not knowing last; 3 where yes and no are asked. */
  #keyByPlace({ answers }: Question, value: FindingValue): string {
    if (answers.some((one) => one.value === 'yes')) return '3';
    const known = answers.filter((one) => one.value !== UNSURE);
    const at = known.findIndex((one) => one.value === value);
    return String((at < 0 ? known.length : at) + 1);
  }
}

/** What narrows the log: days, words, and one choice each of what a call was about. */
import type { LogAnswer } from '../../../desk/contract/log.ts';
import { LOG_WORDS } from '../../log-words.ts';
import { WORDS } from '../../words.ts';

const W = LOG_WORDS;

/** As it stands in the query: what is absent does not narrow. */
export type Filter = Readonly<Record<string, string>>;

interface Narrowing {
  readonly log: LogAnswer | null;
  readonly filter: Filter;
  readonly change: (filter: Filter) => void;
}

export function LogFilterForm({ log, filter, change }: Narrowing) {
  const set = (name: string, value: string): void => {
    const { [name]: _before, ...others } = filter;
    change(value === '' ? others : { ...others, [name]: value });
  };
  const text = (name: string, label: string, type: 'date' | 'search') => (
    <label className="field">
      <span>{label}</span>
      <input
        type={type}
        value={filter[name] ?? ''}
        onChange={(event) => set(name, event.target.value)}
        maxLength={type === 'search' ? 200 : undefined}
      />
    </label>
  );
  const pick = (name: string, label: string, choices: readonly Choice[]) => (
    <label className="field">
      <span>{label}</span>
      <select value={filter[name] ?? ''} onChange={(event) => set(name, event.target.value)}>
        <option value="">{W.all}</option>
        {choices.map(({ id, title }) => (
          <option key={id} value={id}>
            {title}
          </option>
        ))}
      </select>
    </label>
  );
  return (
    <form className="log-filter" role="search" aria-label={W.narrow}>
      {text('from', W.from, 'date')}
      {text('to', W.to, 'date')}
      {text('words', W.words, 'search')}
      {pick('procedure', W.operation, log?.choices.procedures ?? [])}
      {pick('day', WORDS.person.day, DAYS)}
      {pick('outcome', W.outcome, choicesOf(W.outcomes))}
      {pick('about', W.about, log?.choices.concerns ?? [])}
      {pick('by', W.by, log?.choices.staff ?? [])}
      {pick('channel', W.channel, choicesOf(W.channels))}
      {pick('reviewed', W.reviewed, choicesOf({ yes: W.yes, no: W.no }))}
    </form>
  );
}

interface Choice {
  readonly id: string;
  readonly title: string;
}

const DAYS: readonly Choice[] = ['0', '1-3', '4-7', '8-14', '15-28', '29-84', '85-365'].map((id) => ({
  id,
  title: id.replace('-', ' – '),
}));

function choicesOf(words: Readonly<Record<string, string>>): readonly Choice[] {
  return Object.entries(words).map(([id, title]) => ({ id, title }));
}

/** One field for a telephone number, a surname or a date of birth; each match with what matters, one key to choose. */
import { useEffect, useRef, useState, type ReactNode } from 'react';
import { ListBox, ListBoxItem } from 'react-aria-components';
import {
  findAnswerSchema,
  type FindAnswer,
  type OperationShape,
  type PatientShape,
} from '../../../desk/contract/people.ts';
import { WORDS } from '../../words.ts';
import { get, type Refused } from '../api.ts';
import { later } from '../browser.ts';
import { useKeys } from '../keys.ts';
import { Allergies, dayText, OperationFacts } from '../person.tsx';
import { say } from '../say.ts';
import { Trouble } from '../trouble.tsx';

const W = WORDS.home;

export interface Chosen {
  readonly patient: PatientShape;
  readonly operation: OperationShape;
}

interface Finding {
  readonly label: string;
  /** What choosing does, in words. */
  readonly choose: string;
  readonly chosen: (chosen: Chosen) => void;
  readonly focus?: boolean;
}

const PAUSE_MILLIS = 120;
const FEWEST_LETTERS = 3;

export function Finder({ label, choose, chosen, focus = false }: Finding) {
  const [text, setText] = useState('');
  const [answer, setAnswer] = useState<FindAnswer | null>(null);
  const [trouble, setTrouble] = useState<Refused | null>(null);
  const results = useRef<HTMLHeadingElement>(null);
  const wantsResults = useRef(false);
  const latest = useRef({ text: '', stop: (): void => undefined });

  const find = async (wanted: string): Promise<void> => {
    const found = await get(`/api/find?q=${encodeURIComponent(wanted)}`, findAnswerSchema);
    if (latest.current.text !== wanted) return;
    setTrouble(found.ok ? null : found);
    setAnswer(found.ok ? found.value : null);
    if (found.ok) say(toldOf(found.value));
  };
  const type = (typed: string): void => {
    setText(typed);
    latest.current.stop();
    const wanted = typed.trim();
    latest.current.text = wanted;
    if (wanted.length < FEWEST_LETTERS) setAnswer(null);
    else latest.current.stop = later(PAUSE_MILLIS, () => void find(wanted));
  };
  const submit = async (): Promise<void> => {
    latest.current.stop();
    if (text.trim() === '') return;
    latest.current.text = text.trim();
    wantsResults.current = true;
    await find(text.trim());
  };
  useEffect(() => {
    if (answer === null || !wantsResults.current) return;
    wantsResults.current = false;
    results.current?.focus();
  }, [answer]);
  const matches = (answer?.found ?? []).flatMap(({ patient, operations }) =>
    operations.map((operation) => ({ patient, operation })),
  );
  useKeys(Object.fromEntries(matches.slice(0, 9).map((match, at) => [String(at + 1), () => chosen(match)])));
  return (
    <search className="find">
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void submit();
        }}
      >
        <label htmlFor="find">{label}</label>
        <div className="row">
          <input
            id="find"
            type="search"
            autoComplete="off"
            spellCheck={false}
            autoFocus={focus}
            data-focus={focus ? true : undefined}
            aria-describedby="find-hint"
            value={text}
            onChange={(event) => type(event.target.value)}
          />
          <button type="submit">{W.search}</button>
        </div>
        <p className="hint" id="find-hint">
          {W.findHint}
        </p>
      </form>
      {trouble !== null && <Trouble refused={trouble} retry={() => void find(text.trim())} />}
      {answer !== null && (
        <div className="results">
          <h2 ref={results} tabIndex={-1}>
            {W.results}
          </h2>
          {matches.length === 0 && <p className="notice">{answer.understood ? W.nobody : W.notUnderstood}</p>}
          <ListBox
            aria-label={choose}
            items={matches.map((match) => ({ ...match, id: match.operation.id }))}
            onAction={(key) => {
              const match = matches.find(({ operation }) => operation.id === key);
              if (match !== undefined) chosen(match);
            }}
            className="matches"
            renderEmptyState={() => null}
          >
            {matches.map((match, at) => (
              <ListBoxItem
                key={match.operation.id}
                id={match.operation.id}
                textValue={match.patient.name}
                className="match"
              >
                <Match {...match} mark={at < 9 ? <kbd>{at + 1}</kbd> : null} choose={choose} />
              </ListBoxItem>
            ))}
          </ListBox>
          {answer.more && <p className="notice">{W.more}</p>}
        </div>
      )}
    </search>
  );
}

function Match({ patient, operation, mark, choose }: Chosen & { mark: ReactNode; choose: string }) {
  return (
    <>
      <p className="who">
        {mark}
        <strong>{patient.name}</strong>
        <span>
          {WORDS.person.born} {patient.bornShown}
        </span>
        <Allergies patient={patient} />
      </p>
      <p className="what">
        <strong className="day">{dayText(operation)}</strong>
        <span>
          {operation.what}, {operation.on}
        </span>
        <span className="choose">{choose}</span>
      </p>
      <OperationFacts operation={operation} />
    </>
  );
}

function toldOf({ understood, found }: FindAnswer): string {
  if (found.length > 0) return `${W.results}: ${found.length}`;
  return understood ? W.nobody : W.notUnderstood;
}

/**
 * What the caller says without being asked: typed in their words, shown as what was understood, and counted only when
 * it was accepted; what was not understood is picked from the list.
 */
import { useEffect, useState } from 'react';
import {
  findingsAnswerSchema,
  heardAnswerSchema,
  type FindingLine,
  type HeardLine,
} from '../../../desk/contract/findings.ts';
import { WORDS } from '../../words.ts';
import { get, post, type Refused } from '../api.ts';
import { AskDialog } from '../ask-dialog.tsx';
import { Trouble } from '../trouble.tsx';
import type { InDialog } from './call-dialog.tsx';
import { CorrectionChoice, type Correction } from './correct-dialog.tsx';
import { FindingValueField } from './finding-value.tsx';

const W = WORDS.act;

type Values = Readonly<Record<string, string | number>>;

export function VolunteerDialog({ view, session, close }: InDialog) {
  const path = `/api/calls/${encodeURIComponent(view.id)}`;
  const [findings, setFindings] = useState<readonly FindingLine[]>([]);
  const [trouble, setTrouble] = useState<Refused | null>(null);
  const [words, setWords] = useState('');
  /** The words that were read, and what was understood of them. */
  const [heard, setHeard] = useState<{ words: string; lines: readonly HeardLine[] } | null>(null);
  const [values, setValues] = useState<Values>({});
  const [filter, setFilter] = useState('');
  const [correction, setCorrection] = useState<Correction | null>(null);
  useEffect(() => {
    void get(`${path}/findings`, findingsAnswerSchema).then((answer) => {
      if (answer.ok) setFindings(answer.value.findings);
      else setTrouble(answer);
    });
  }, [path]);

  const text = words.trim();
  const changes = findings.some(({ id, value }) => value !== null && values[id] !== undefined);
  const hear = (): void => {
    void post(`${path}/hear`, { text }, heardAnswerSchema).then((answer) => {
      setTrouble(answer.ok ? null : answer);
      if (!answer.ok) return;
      const lines = answer.value.heard;
      setHeard({ words: text, lines });
      setValues((before) => ({
        ...before,
        ...Object.fromEntries(lines.map(({ finding, value }) => [finding, value])),
      }));
    });
  };
  const send = (): void => {
    if (text !== '' && heard?.words !== text) {
      hear();
      return;
    }
    if (Object.keys(values).length === 0 || (changes && correction === null)) return;
    session.send({
      kind: 'volunteer',
      findings: values,
      words: text === '' ? null : text,
      correction: changes ? correction : null,
    });
    close();
  };
  const set = (id: string, value: string | number | null): void =>
    setValues(({ [id]: _before, ...others }) => (value === null ? others : { ...others, [id]: value }));
  const wanted = filter.trim().toLowerCase();
  const listed = findings.filter(
    ({ id, is }) => wanted !== '' && `${is} ${id}`.toLowerCase().includes(wanted),
  );
  const chosen = findings.filter(({ id }) => values[id] !== undefined);
  const isRead = text === '' || heard?.words === text;
  return (
    <AskDialog
      title={W.volunteerTitle}
      hint={W.volunteerHint}
      submit={isRead ? W.count : W.understand}
      wide
      send={send}
      close={close}
    >
      {trouble !== null && <Trouble refused={trouble} />}
      <label className="field">
        <span>{W.theirWords}</span>
        <input
          type="text"
          maxLength={4000}
          autoComplete="off"
          value={words}
          onChange={(event) => setWords(event.target.value)}
        />
      </label>
      <div className="heard" role="group" aria-label={W.understood} aria-live="polite">
        {heard !== null && heard.lines.length === 0 && <p className="notice">{W.nothingUnderstood}</p>}
        {chosen.map((line) => (
          <FindingValueField
            key={line.id}
            line={line}
            value={values[line.id] ?? null}
            behind={heard?.lines.find(({ finding }) => finding === line.id)?.words ?? null}
            set={(value) => set(line.id, value)}
          />
        ))}
      </div>
      {changes && <CorrectionChoice chosen={correction} choose={setCorrection} />}
      <label className="field">
        <span>{W.filter}</span>
        <input
          type="search"
          autoComplete="off"
          value={filter}
          onChange={(event) => setFilter(event.target.value)}
        />
      </label>
      {listed.length > 0 && (
        <ul className="findings">
          {listed.slice(0, SHOWN_AT_MOST).map((line) => (
            <li key={line.id}>
              <button
                type="button"
                className="quiet"
                disabled={values[line.id] !== undefined}
                onClick={() => set(line.id, line.tick ? 'yes' : (line.options[0]?.value ?? 'unsure'))}
              >
                + {line.is}
              </button>
              {line.value !== null && (
                <span className="hint">
                  {' '}
                  ({W.saidAlready} {line.value})
                </span>
              )}
            </li>
          ))}
        </ul>
      )}
    </AskDialog>
  );
}

const SHOWN_AT_MOST = 12;

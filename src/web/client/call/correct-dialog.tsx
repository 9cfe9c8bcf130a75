/** Changing an answer: mis-keyed changes it freely; taken back never lowers a danger. */
import { useEffect, useRef, useState } from 'react';
import type { Answered } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';
import { AskDialog } from '../ask-dialog.tsx';
import type { InDialog } from './call-dialog.tsx';
import { typedNumber } from './answer-input.ts';

const W = WORDS.act;

export type Correction = 'mis-keyed' | 'taken-back';

const CORRECTIONS: readonly { readonly value: Correction; readonly label: string }[] = [
  { value: 'mis-keyed', label: W.misKeyed },
  { value: 'taken-back', label: W.takenBack },
];

interface Choosing {
  readonly chosen: Correction | null;
  readonly choose: (correction: Correction) => void;
}

export function CorrectionChoice({ chosen, choose }: Choosing) {
  return (
    <fieldset className="radios">
      <legend>{W.correctHow}</legend>
      {CORRECTIONS.map(({ value, label }) => (
        <label key={value}>
          <input
            type="radio"
            name="correction"
            required
            checked={chosen === value}
            onChange={() => choose(value)}
          />{' '}
          {label}
        </label>
      ))}
    </fieldset>
  );
}

export function CorrectDialog({ answered, session, close }: InDialog & { readonly answered: Answered }) {
  const isFact = answered.how === 'fact';
  const asked = useRef(false);
  // What was written down is asked again in its own card; it is never scored.
  useEffect(() => {
    if (!isFact || asked.current) return;
    asked.current = true;
    if (answered.question !== null) session.send({ kind: 'reopen', question: answered.question });
    close();
  }, [isFact, answered, session, close]);
  return isFact ? null : <Values answered={answered} session={session} close={close} />;
}

function Values({ answered, session, close }: Pick<InDialog, 'session' | 'close'> & { answered: Answered }) {
  const [chosen, setChosen] = useState<string | number | null>(null);
  const [typed, setTyped] = useState('');
  const [correction, setCorrection] = useState<Correction | null>(null);
  const isGroup = answered.how === 'group';
  const value = answered.number !== null && typed.trim() !== '' ? typedNumber(typed) : chosen;
  const send = (): void => {
    if (value === null || (correction === null && !isGroup)) return;
    if (answered.question !== null) {
      session.send({
        kind: 'answer',
        question: answered.question,
        value,
        correction: correction ?? 'mis-keyed',
      });
    } else if (answered.finding !== null) {
      session.send({
        kind: 'volunteer',
        findings: { [answered.finding]: value },
        words: null,
        correction,
      });
    }
    close();
  };
  return (
    <AskDialog
      title={W.correctTitle}
      hint={`${answered.asked} ${answered.answer}`}
      submit={W.send}
      send={send}
      close={close}
    >
      {answered.number !== null && (
        <label className="field">
          <span>{WORDS.call.number}</span>
          <input
            type="text"
            inputMode="decimal"
            autoComplete="off"
            value={typed}
            onChange={(event) => setTyped(event.target.value)}
          />
        </label>
      )}
      <fieldset className="radios">
        <legend>{answered.asked}</legend>
        {answered.options.map((option) => (
          <label key={option.value}>
            <input
              type="radio"
              name="value"
              required={answered.number === null}
              checked={chosen === option.value}
              onChange={() => setChosen(option.value)}
            />{' '}
            {option.label}
          </label>
        ))}
      </fieldset>
      {!isGroup && <CorrectionChoice chosen={correction} choose={setCorrection} />}
    </AskDialog>
  );
}

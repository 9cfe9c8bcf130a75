/** A note for the record; and that the call broke off. */
import { useState } from 'react';
import { WORDS } from '../../words.ts';
import { AskDialog } from '../ask-dialog.tsx';
import { onEnter } from '../text-field.ts';
import type { InDialog } from './call-dialog.tsx';

const W = WORDS.act;

export function NoteDialog({ session, close }: InDialog) {
  const [text, setText] = useState('');
  const send = (): void => {
    if (text.trim() === '') return;
    session.send({ kind: 'note', text: text.trim() });
    close();
  };
  return (
    <AskDialog title={W.noteTitle} submit={W.send} send={send} close={close}>
      <label className="field">
        <span>{W.note}</span>
        <textarea
          rows={4}
          maxLength={4000}
          value={text}
          onChange={(event) => setText(event.target.value)}
          onKeyDown={onEnter(send)}
        />
      </label>
    </AskDialog>
  );
}

const ENDINGS = [
  { value: 'hung-up', label: W.hungUpYes },
  { value: 'stopped', label: W.stopped },
] as const;

export function HungUpDialog({ session, close }: InDialog) {
  const [how, setHow] = useState<'hung-up' | 'stopped'>('hung-up');
  const send = (): void => {
    session.send({ kind: 'cut-off', how });
    close();
  };
  return (
    <AskDialog title={W.hungUpTitle} submit={W.send} send={send} close={close}>
      <fieldset className="radios">
        <legend>{W.hungUpHint}</legend>
        {ENDINGS.map(({ value, label }) => (
          <label key={value}>
            <input type="radio" name="how" checked={how === value} onChange={() => setHow(value)} /> {label}
          </label>
        ))}
      </fieldset>
    </AskDialog>
  );
}

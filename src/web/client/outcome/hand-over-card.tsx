/** Handing over: the text to read out, copy or print, what the clinician will want to know, and who accepted. */
import { useState } from 'react';
import type { CallView, ResultShape } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';
import type { Session } from '../call/session.ts';
import { say } from '../say.ts';

const W = WORDS.call;

interface Showing {
  readonly view: CallView;
  readonly result: ResultShape;
  readonly session: Session;
}

export function HandOverCard({ view, result, session }: Showing) {
  return (
    <section className="sheet hand-over">
      <h2>{W.handover}</h2>
      <dl className="sbar">
        {handoverParts(result.handover).map(({ label, text }) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
      {result.clinicianNeeds !== null && (
        <p className="hint">
          {W.clinicianNeeds}: {result.clinicianNeeds}
        </p>
      )}
      <div className="row tools">
        <CopyButton text={handoverText(result.handover)} />
        <button type="button" onClick={() => print()}>
          {WORDS.record.print}
        </button>
      </div>
      <h3>{W.acceptTitle}</h3>
      {view.accepted === null ? (
        <AcceptForm view={view} session={session} />
      ) : (
        <p className="done">
          {W.acceptedBy} {view.accepted.clinician}, {view.accepted.at.shown}
        </p>
      )}
    </section>
  );
}

type Handover = ResultShape['handover'];

function handoverParts(handover: Handover): readonly { readonly label: string; readonly text: string }[] {
  const { situation, background, assessment, recommendation } = handover;
  const labels = WORDS.handover;
  return [
    { label: labels.situation, text: situation },
    { label: labels.background, text: background },
    { label: labels.assessment, text: assessment },
    { label: labels.recommendation, text: recommendation },
  ];
}

function handoverText(handover: Handover): string {
  return handoverParts(handover)
    .map(({ label, text }) => `${label}: ${text}`)
    .join('\n');
}

function CopyButton({ text }: { readonly text: string }) {
  const [done, setDone] = useState('');
  const copy = (): void => {
    const told = (words: string): void => {
      setDone(words);
      say(words);
    };
    void navigator.clipboard.writeText(text).then(
      () => told(WORDS.act.copied),
      () => told(WORDS.act.notCopied),
    );
  };
  return (
    <>
      <button type="button" onClick={copy}>
        {WORDS.act.copy}
      </button>
      {done !== '' && <span className="hint">{done}</span>}
    </>
  );
}

function AcceptForm({ view, session }: Pick<Showing, 'view' | 'session'>) {
  const [name, setName] = useState('');
  return (
    <form
      className="row"
      onSubmit={(event) => {
        event.preventDefault();
        if (name.trim() !== '') session.send({ kind: 'accept', clinician: name.trim() });
      }}
    >
      <label className="field">
        <span>{W.acceptName}</span>
        <input
          type="text"
          id="accepted-by"
          list="clinicians"
          autoComplete="off"
          maxLength={120}
          required
          value={name}
          onChange={(event) => setName(event.target.value)}
        />
      </label>
      <datalist id="clinicians">
        {view.onCall.map((one) => (
          <option key={one.name} value={one.name} />
        ))}
      </datalist>
      <button type="submit" className="main">
        {W.accept}
      </button>
    </form>
  );
}

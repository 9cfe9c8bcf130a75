/** Two identifiers from the caller before anything from the record is used: compare, or find the patient first. */
import { useRef } from 'react';
import { WORDS } from '../../words.ts';
import { Finder } from '../home/finder.tsx';
import { onEnter } from '../text-field.ts';
import type { Questioning } from './question-card.tsx';
import type { Session } from './session.ts';

const W = WORDS.call;

export function IdentityCard({ view, question, session }: Questioning) {
  const { patient } = view;
  return (
    <div className="answers identity">
      {patient === null ? (
        <FindPatient session={session} focus />
      ) : (
        <>
          <div className="card">
            <p>
              <strong>{patient.name}</strong>, {WORDS.person.born} {patient.bornShown}
            </p>
            <p className="hint">{W.readBack}</p>
            <button
              type="button"
              className="main"
              data-focus
              onClick={() => session.press({ kind: 'fact', question: question.id, text: W.identityDone })}
            >
              <kbd>Enter</kbd> {W.identityMatch}
            </button>
          </div>
          <details>
            <summary>{W.identityElse}</summary>
            <FindPatient session={session} />
          </details>
        </>
      )}
      <Otherwise question={question.id} session={session} />
    </div>
  );
}

/** Choosing again corrects the patient; the call goes on with the script of that operation. */
function FindPatient({ session, focus = false }: { readonly session: Session; readonly focus?: boolean }) {
  return (
    <Finder
      label={W.identityFind}
      choose={W.identityUse}
      focus={focus}
      chosen={({ patient, operation }) =>
        session.send({
          kind: 'identify',
          patientId: patient.id,
          operationId: operation.id,
          statedDates: [],
        })
      }
    />
  );
}

function Otherwise({ question, session }: { readonly question: string; readonly session: Session }) {
  const area = useRef<HTMLTextAreaElement>(null);
  const send = (): void => {
    const text = area.current?.value.trim() ?? '';
    if (text === '') area.current?.focus();
    else session.send({ kind: 'fact', question, text });
  };
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        send();
      }}
    >
      <label className="field">
        <span>{W.identityOther}</span>
        <textarea ref={area} rows={2} maxLength={4000} onKeyDown={onEnter(send)} />
      </label>
      <button type="submit">{W.next}</button>
    </form>
  );
}

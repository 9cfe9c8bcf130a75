/** The words to tell the caller, read aloud and ticked one by one as they are said; said is recorded when all are. */
import { useState } from 'react';
import type { CallView, ResultShape } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';
import type { Session } from '../call/session.ts';
import { OutcomeBadge, outcomeKind, outcomeLabel } from '../outcome-label.tsx';
import { isToBeTold } from './is-to-be-told.ts';

const W = WORDS.call;

interface Telling {
  readonly view: CallView;
  readonly result: ResultShape;
  readonly session: Session;
}

export function TellCard({ view, result, session }: Telling) {
  const toTell = isToBeTold(view);
  return (
    <section className={`sheet tell ${outcomeKind(result.outcome)}`} aria-labelledby="tell-title">
      {view.at !== 'asking' && (
        <p className="outcome-line">
          <OutcomeBadge outcome={result.outcome} />
          {result.about !== null && (
            <span>
              {W.possible}: <strong>{result.about}</strong>
            </span>
          )}
        </p>
      )}
      {view.cutOff && <p className="notice">{W.cutOff}</p>}
      <p className="label">{W.readAloud}</p>
      <h2 id="tell-title" tabIndex={-1} data-focus={toTell ? true : undefined}>
        {W.tellTitle}
      </h2>
      {toTell ? (
        <ToSay key={outcomeLabel(result.outcome)} tell={result.tell} session={session} />
      ) : (
        result.tell.map((text, at) => (
          <p key={`${at} ${text}`} className="aloud small">
            {text}
          </p>
        ))
      )}
      {view.told !== null && (
        <p className="done">
          {W.toldDone} <OutcomeBadge outcome={view.told} />
        </p>
      )}
    </section>
  );
}

function ToSay({ tell, session }: { readonly tell: readonly string[]; readonly session: Session }) {
  const [said, setSaid] = useState<readonly number[]>([]);
  const left = tell.length - said.length;
  const tick = (at: number): void => {
    const next = said.includes(at) ? said.filter((one) => one !== at) : [...said, at];
    setSaid(next);
    if (next.length === tell.length) session.press({ kind: 'tell' });
  };
  return (
    <>
      <ol className="to-say">
        {tell.map((text, at) => (
          <li key={`${at} ${text}`}>
            <label className="aloud small">
              <input type="checkbox" checked={said.includes(at)} onChange={() => tick(at)} />
              <span>{text}</span>
            </label>
          </li>
        ))}
      </ol>
      <button type="button" className="main" onClick={() => session.press({ kind: 'tell' })}>
        <kbd>T</kbd> {W.told}
      </button>
      <span className="hint" role="status">
        {left} {W.stillToSay}
      </span>
    </>
  );
}

/** One call re-read: how the outcome moved, every word, what was promised and became of it, and what the lead says. */
import { useEffect, useRef, useState } from 'react';
import { logCallAnswerSchema, type LogCallAnswer, type LogMove } from '../../../desk/contract/log.ts';
import { LOG_WORDS } from '../../log-words.ts';
import { WORDS } from '../../words.ts';
import { get, post, type Refused } from '../api.ts';
import { newId } from '../browser.ts';
import { OutcomeBadge } from '../outcome-label.tsx';
import { PromiseItem } from '../promise-item.tsx';
import { RecordSections } from '../record/record-page.tsx';
import { Link } from '../route.tsx';
import { Trouble } from '../trouble.tsx';

const W = LOG_WORDS;

export function LogCallPage({ id }: { readonly id: string }) {
  const path = `/api/log/${encodeURIComponent(id)}`;
  const [call, setCall] = useState<LogCallAnswer | null>(null);
  const [trouble, setTrouble] = useState<Refused | null>(null);
  useEffect(() => {
    void get(path, logCallAnswerSchema).then((answer) => {
      if (answer.ok) setCall(answer.value);
      else setTrouble(answer);
    });
  }, [path]);
  return (
    <main id="main" className="page log-call" tabIndex={-1}>
      <p className="tools">
        <Link to="/log">{W.title}</Link>
        <button type="button" onClick={() => print()}>
          {WORDS.record.print}
        </button>
      </p>
      {trouble !== null && <Trouble refused={trouble} />}
      {call !== null && (
        <>
          <title>{call.record.title}</title>
          <h1>
            {call.line.patient ?? WORDS.home.unknownCaller}, {call.line.started.shown}
          </h1>
          <div className="two">
            <div>
              <Moves moves={call.moves} />
              <Promises call={call} />
              <WouldHaveChanged call={call} />
              <Reviews call={call} path={path} reread={setCall} />
            </div>
            <div>
              <RecordSections record={call.record} />
            </div>
          </div>
        </>
      )}
    </main>
  );
}

function Moves({ moves }: { readonly moves: readonly LogMove[] }) {
  return (
    <section className="sheet">
      <h2>{W.moves}</h2>
      <ol className="moves">
        {moves.map((move, at) => (
          <li key={`${at} ${move.at.at}`}>
            <time>{move.at.shown}</time> <OutcomeBadge outcome={move.outcome} />
            {move.points.length > 0 && (
              <span className="points-line">
                {move.points.map(({ title, points }) => `${title} ${points}`).join(', ')}
              </span>
            )}
            {move.reasons.length > 0 && <span className="hint">{move.reasons.join(' ')}</span>}
          </li>
        ))}
      </ol>
    </section>
  );
}

function Promises({ call }: { readonly call: LogCallAnswer }) {
  return (
    <section className="sheet">
      <h2>{W.promised}</h2>
      {call.promises.length === 0 ? (
        <p className="hint">{WORDS.home.noPromises}</p>
      ) : (
        <ul className="plain">
          {call.promises.map((promise) => (
            <PromiseItem key={promise.id} promise={promise} />
          ))}
        </ul>
      )}
    </section>
  );
}

function WouldHaveChanged({ call }: { readonly call: LogCallAnswer }) {
  return (
    <section className="sheet">
      <h2>{W.wouldHaveChanged}</h2>
      <p className="hint">{W.wouldHaveChangedHint}</p>
      <ul className="plain">
        {call.wouldHaveChanged.map(({ finding, was, instead, outcome }) => (
          <li key={`${finding} ${instead}`}>
            {finding}: {was} → {instead} <OutcomeBadge outcome={outcome} />
          </li>
        ))}
      </ul>
    </section>
  );
}

interface Reviewing {
  readonly call: LogCallAnswer;
  readonly path: string;
  readonly reread: (call: LogCallAnswer) => void;
}

function Reviews({ call, path, reread }: Reviewing) {
  const [comment, setComment] = useState('');
  const [trouble, setTrouble] = useState<Refused | null>(null);
  const id = useRef(newId());
  const send = (): void => {
    void post(`${path}/reviewed`, { id: id.current, comment }, logCallAnswerSchema).then((answer) => {
      setTrouble(answer.ok ? null : answer);
      if (!answer.ok) return;
      id.current = newId();
      setComment('');
      reread(answer.value);
    });
  };
  return (
    <section className="sheet reviews">
      <h2>{W.reviews}</h2>
      {trouble !== null && <Trouble refused={trouble} retry={send} />}
      <ul className="plain">
        {call.reviews.map(({ at, by, comment: said }) => (
          <li key={`${at.at} ${by}`}>
            <time>{at.shown}</time>, {by}: <q>{said ?? W.erased}</q>
          </li>
        ))}
      </ul>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          send();
        }}
      >
        <label className="field">
          <span>{W.comment}</span>
          <textarea
            rows={3}
            maxLength={4000}
            value={comment}
            onChange={(event) => setComment(event.target.value)}
          />
        </label>
        <button type="submit" className="main">
          {W.markReviewed}
        </button>
      </form>
    </section>
  );
}

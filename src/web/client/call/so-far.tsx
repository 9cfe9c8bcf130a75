/** Every answer so far, newest first, each with its change; and the notes with their times. */
import type { Answered, CallView } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';
import type { Opened } from './acts.tsx';

const W = WORDS.call;

interface Showing {
  readonly view: CallView;
  readonly open: (what: Opened) => void;
}

export function SoFar({ view, open }: Showing) {
  return (
    <section className="so-far" aria-label={W.answered}>
      {view.notes.length > 0 && (
        <>
          <h2>{W.notes}</h2>
          <ul className="notes">
            {view.notes.map(({ at, text }) => (
              <li key={`${at.at} ${text}`}>
                <time>{at.shown}</time> {text}
              </li>
            ))}
          </ul>
        </>
      )}
      <h2>{W.answered}</h2>
      {view.opening !== null && <blockquote>{view.opening}</blockquote>}
      {view.answered.length === 0 ? (
        <p className="hint">{W.nothingAnswered}</p>
      ) : (
        <ol className="answered" reversed>
          {view.answered.toReversed().map((one) => (
            <AnsweredItem
              key={`${one.question ?? ''} ${one.finding ?? ''}`}
              view={view}
              one={one}
              open={open}
            />
          ))}
        </ol>
      )}
    </section>
  );
}

function AnsweredItem({ view, one, open }: Showing & { readonly one: Answered }) {
  return (
    <li>
      <span className="asked">{one.asked}</span>
      <strong>{one.answer === '' ? WORDS.act.notSaid : one.answer}</strong>
      {W.how[one.how] !== '' && <span className="hint"> {W.how[one.how]}</span>}
      {one.takenBackTo !== null && (
        <em className="warn">
          {' '}
          {W.takenBack} {one.takenBackTo}. {W.goesOnCounting}
        </em>
      )}
      {view.at !== 'closed' && (
        <button
          type="button"
          className="quiet"
          aria-label={`${W.change}: ${one.asked}`}
          onClick={() => open({ what: 'correct', answered: one })}
        >
          {W.change}
        </button>
      )}
    </li>
  );
}

/** Shows that it is urgent as soon as it is, with what to say and do first, whom to ring, and where they are seen. */
import type { CallView } from '../../../desk/contract/call-view.ts';
import type { Contact } from '../../../desk/contract/common.ts';
import { WORDS } from '../../words.ts';
import { Dial } from '../dial.tsx';
import { outcomeKind, outcomeLabel } from '../outcome-label.tsx';

const W = WORDS.call;

export function UrgentBanner({ view }: { readonly view: CallView }) {
  const { result } = view;
  if (!view.urgent || result === null) return null;
  return (
    <section className={`urgent ${outcomeKind(result.outcome)}`} role="alert">
      <h2>
        <span className="mark" aria-hidden="true">
          !
        </span>
        {outcomeLabel(result.outcome)}
      </h2>
      {view.redFlags.map(({ id, text }) => (
        <p key={id} className="reason">
          {text}
        </p>
      ))}
      {result.outcome.emergency && (
        <p className="ring first">
          {W.emergencyFirst} <Dial dial={view.emergency.dial} shown={view.emergency.dial} />
        </p>
      )}
      <div className="urgent-parts">
        <div>
          <h3>{W.ringNow}</h3>
          <ol className="ring">
            {result.ringNow.map((contact) => (
              <Ring key={contact.dial} contact={contact} />
            ))}
          </ol>
        </div>
        {result.untilSeen.length > 0 && (
          <div>
            <h3>{W.untilSeen}</h3>
            <ul>
              {result.untilSeen.map((text) => (
                <li key={text}>{text}</li>
              ))}
            </ul>
          </div>
        )}
        {result.seenAt !== null && (
          <div>
            <h3>{W.seenAt}</h3>
            <p>
              {result.seenAt.name}, {result.seenAt.address}{' '}
              <Dial dial={result.seenAt.dial} shown={result.seenAt.shown} />
            </p>
          </div>
        )}
      </div>
    </section>
  );
}

function Ring({ contact: { name, what, dial, shown } }: { readonly contact: Contact }) {
  const rung = Object.entries(WORDS.rungs).find(([id]) => id === what)?.[1] ?? what;
  return (
    <li>
      {name} <Dial dial={dial} shown={shown} /> <span className="hint">{rung}</span>
    </li>
  );
}

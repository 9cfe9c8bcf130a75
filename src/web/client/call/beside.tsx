/** Where the call stands, beside the question: what is open, NEWS2, earlier calls, what is promised. */
import type { CallView } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';
import { PromiseItem } from '../promise-item.tsx';

const W = WORDS.call;

export function Beside({ view }: { readonly view: CallView }) {
  const flags = view.urgent ? [] : view.redFlags;
  return (
    <>
      {flags.length > 0 && <Block title={W.redFlags} kind="flags" texts={flags.map(({ text }) => text)} />}
      <Block title={W.unknown} kind="unknown" texts={view.unknown} />
      {view.news2 !== null && (
        <section>
          <h2>{W.news2}</h2>
          <p>
            {W.atLeast} <strong>{view.news2.atLeast}</strong>
            {view.news2.missing.length > 0 && (
              <span className="hint">{` ${W.missing} ${view.news2.missing.map(plain).join(', ')}`}</span>
            )}
          </p>
        </section>
      )}
      <Earlier view={view} />
      {view.promises.length > 0 && (
        <section>
          <h2>{W.promises}</h2>
          <ul>
            {view.promises.map((promise) => (
              <PromiseItem key={promise.id} promise={promise} />
            ))}
          </ul>
        </section>
      )}
      <section>
        <h2>{W.reach}</h2>
        <p className="hint">{view.reachClinician}</p>
      </section>
    </>
  );
}

function plain(id: string): string {
  return id.replaceAll('-', ' ');
}

interface Listing {
  readonly title: string;
  readonly kind: string;
  readonly texts: readonly string[];
}

function Block({ title, kind, texts }: Listing) {
  if (texts.length === 0) return null;
  return (
    <section className={kind}>
      <h2>{title}</h2>
      <ul>
        {texts.map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </section>
  );
}

/** Shown when this call's own danger screen is done: an earlier outcome could calm or alarm. */
function Earlier({ view: { earlierCalls } }: { readonly view: CallView }) {
  return (
    <section>
      <h2>{W.earlier}</h2>
      {earlierCalls === null || earlierCalls.length === 0 ? (
        <p className="hint">{earlierCalls === null ? W.earlierLater : W.noEarlier}</p>
      ) : (
        <ul>
          {earlierCalls.map(({ hoursAgo, outcome, about }, at) => (
            <li key={at}>
              {hoursAgo} {W.hoursAgo}: {WORDS.outcomeNames[outcome]}
              {about === null ? '' : `, ${about}`}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

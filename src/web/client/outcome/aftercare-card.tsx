/** What is usual now and the aftercare plan of the day; what was asked about stands open. */
import type { ResultShape } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';

const W = WORDS.call;

export function AftercareCard({ result }: { readonly result: ResultShape }) {
  const asked = result.aftercare.filter((one) => one.asked);
  const others = result.aftercare.filter((one) => !one.asked);
  return (
    <section className="sheet">
      {result.normal.length > 0 && (
        <>
          <h3>{W.normal}</h3>
          <ul>
            {result.normal.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </>
      )}
      {asked.length > 0 && <h2>{`${W.aftercare} (${W.askedFor})`}</h2>}
      {asked.length > 0 && <Plan items={asked} />}
      {others.length > 0 && (
        <details>
          <summary>{W.aftercare}</summary>
          <Plan items={others} />
        </details>
      )}
    </section>
  );
}

function Plan({ items }: { readonly items: ResultShape['aftercare'] }) {
  return (
    <dl className="aftercare">
      {items.map(({ kind, say, days, source }) => (
        <div key={`${kind} ${say}`}>
          <dt>{kindLabel(kind)}</dt>
          <dd>
            {say}
            <span className="hint">{` ${days}. ${W.source}: ${source}`}</span>
          </dd>
        </div>
      ))}
    </dl>
  );
}

function kindLabel(kind: string): string {
  return Object.entries(WORDS.aftercareKinds).find(([id]) => id === kind)?.[1] ?? kind;
}

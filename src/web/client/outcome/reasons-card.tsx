/** Why it came to this: every reason with its source, and the points when the questions are over. */
import type { CallView, ResultShape } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';
import { OutcomeBadge } from '../outcome-label.tsx';

const W = WORDS.call;

export function ReasonsCard({ view, result }: { readonly view: CallView; readonly result: ResultShape }) {
  return (
    <section className="sheet reasons-card">
      <h2>{W.sources}</h2>
      <ul className="reasons">
        {result.reasons.map(({ text, source, to }) => (
          <li key={`${text} ${source}`}>
            <span>{text}</span> <OutcomeBadge outcome={to} />
            <cite>
              {W.source}: {source}
            </cite>
          </li>
        ))}
      </ul>
      {result.concerns !== null && (
        <>
          <h3>{W.points}</h3>
          {result.concerns.length === 0 ? (
            <p className="hint">{W.noPoints}</p>
          ) : (
            <ul className="points">
              {result.concerns.map(({ title, points }) => (
                <li key={title}>
                  <span>{title}</span> <strong>{points}</strong>
                </li>
              ))}
            </ul>
          )}
        </>
      )}
      <p className="hint">{`${W.script}: ${view.script.id} @ ${view.script.hash.slice(0, 12)}`}</p>
    </section>
  );
}

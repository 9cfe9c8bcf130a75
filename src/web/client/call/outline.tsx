/** The script's outline: what is done, now, next, and what is skipped and why; a press re-opens what is done. */
import type { CallView, OutlineLine } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';
import type { Session } from './session.ts';

const W = WORDS.outline;

export function Outline({ view, session }: { readonly view: CallView; readonly session: Session }) {
  const of = (state: OutlineLine['state']): readonly OutlineLine[] =>
    view.outline.filter((line) => line.state === state);
  const [done, now, next, skipped] = [of('done'), of('now'), of('next'), of('skipped')];
  return (
    <nav className="outline" aria-label={W.title}>
      <h2>{W.title}</h2>
      <p className="count">
        {done.length} {W.done}, {now.length + next.length} {W.toGo}
      </p>
      <ol>
        {done.map((line) => (
          <li key={line.id} className="done">
            <span className="mark" aria-hidden="true">
              ✓
            </span>
            {view.at === 'closed' ? (
              <span>{line.words}</span>
            ) : (
              <button
                type="button"
                className="quiet"
                title={line.words}
                aria-label={`${W.reopen}: ${line.words}`}
                onClick={() => session.press({ kind: 'reopen', question: line.id })}
              >
                {line.words}
              </button>
            )}
          </li>
        ))}
        {now.map((line) => (
          <li key={line.id} className="now" aria-current="step">
            <span className="mark" aria-hidden="true">
              ▸
            </span>
            <span>{line.words}</span>
          </li>
        ))}
        {next.map((line) => (
          <li key={line.id} className="next">
            <span className="mark" aria-hidden="true">
              ○
            </span>
            <span>{line.words}</span>
          </li>
        ))}
      </ol>
      {skipped.length > 0 && (
        <details>
          <summary>
            {skipped.length} {W.skipped}
          </summary>
          <ul>
            {skipped.map((line) => (
              <li key={line.id} className="skipped">
                <span>{line.words}</span>
                {line.skippedBecause !== null && <em>{W.because[line.skippedBecause]}</em>}
              </li>
            ))}
          </ul>
        </details>
      )}
    </nav>
  );
}

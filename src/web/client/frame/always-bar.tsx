/** The bar on top of every page: the practice, whether it is open, the emergency number, and who is on call. */
import type { PracticeAnswer } from '../../../desk/contract/practice.ts';
import { WORDS } from '../../words.ts';
import { Link } from '../route.tsx';
import { ThemeSwitch } from './theme.tsx';

const W = WORDS.practice;

export function AlwaysBar({ practice }: { readonly practice: PracticeAnswer | null }) {
  if (practice === null) return <header className="bar" />;
  const gaps = practice.gaps.map((rung) => WORDS.rungs[rung]).join(', ');
  return (
    <header className="bar">
      <div className="practice">
        <Link to="/">{practice.name}</Link>
        <span className="hours">{openingText(practice)}</span>
        {practice.mode === 'demo' && <span className="demo">{W.demo}</span>}
      </div>
      <dl className="numbers">
        <div className="number emergency">
          <dt>{W.emergency}</dt>
          <dd id="emergency">
            <a href={`tel:${practice.emergency.dial}`}>{practice.emergency.dial}</a>
          </dd>
        </div>
        {practice.onCall.map(({ rung, name, dial, shown }, at) => (
          <div key={rung} className={at === 0 ? 'number first' : 'number'}>
            <dt>{WORDS.rungs[rung]}</dt>
            <dd>
              <span>{name}</span> <a href={`tel:${dial}`}>{shown}</a>
            </dd>
          </div>
        ))}
        {gaps !== '' && (
          <div className="number gap">
            <dt>{W.gaps}</dt>
            <dd>{gaps}</dd>
          </div>
        )}
      </dl>
      <nav aria-label={WORDS.frame.pages} className="pages">
        <Link to="/log">{WORDS.frame.log}</Link>
        <a href="/profile">{WORDS.frame.profile}</a>
        <ThemeSwitch />
      </nav>
    </header>
  );
}

function openingText({ opening: { open, until, because } }: PracticeAnswer): string {
  const hours = open && until !== null ? `${W.open} ${until}` : W.closed;
  return because === null ? hours : `${hours} (${because})`;
}

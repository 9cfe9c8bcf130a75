/** What it comes to: what to tell, who takes over, what is agreed, reasons with sources, aftercare, and closing. */
import type { ReactNode } from 'react';
import type { CallView } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';
import type { Session } from '../call/session.ts';
import { callPath, Link } from '../route.tsx';
import { AftercareCard } from './aftercare-card.tsx';
import { CloseCard } from './close-card.tsx';
import { HandOverCard } from './hand-over-card.tsx';
import { isToBeTold } from './is-to-be-told.ts';
import { ReasonsCard } from './reasons-card.tsx';
import { TellCard } from './tell-card.tsx';

interface Showing {
  readonly view: CallView;
  readonly session: Session;
  readonly question: ReactNode;
}

/**
 * While questions go on an urgent call shows what to tell, before the question until it was told, and who takes over;
 * everything else comes when the asking is over.
 */
export function Outcome({ view, session, question }: Showing) {
  const { result } = view;
  if (result === null) return question;
  const tell = <TellCard view={view} result={result} session={session} />;
  const take = view.urgent && <HandOverCard view={view} result={result} session={session} />;
  if (view.at === 'asking') {
    return isToBeTold(view) ? (
      <>
        {tell}
        {question}
        {take}
      </>
    ) : (
      <>
        {question}
        {take}
        {tell}
      </>
    );
  }
  return (
    <>
      {view.at === 'closed' && <Closed view={view} />}
      {tell}
      {take}
      {view.at === 'outcome' && <CloseCard view={view} result={result} session={session} />}
      <ReasonsCard view={view} result={result} />
      <AftercareCard result={result} />
    </>
  );
}

function Closed({ view }: { readonly view: CallView }) {
  return (
    <section className="sheet">
      <h2 tabIndex={-1} data-focus>
        {WORDS.call.closed}
      </h2>
      <p>
        <Link to={`${callPath(view.id)}/record`}>{WORDS.call.readRecord}</Link>
      </p>
    </section>
  );
}

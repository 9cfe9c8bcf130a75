/** The page of one call: outline at the left, question or outcome in the middle, what is known at the right. */
import { useCallback, useEffect, useRef, useState } from 'react';
import type { CallView } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';
import { useKeys, type Keys } from '../keys.ts';
import { useChanges } from '../live.ts';
import { Outcome } from '../outcome/outcome.tsx';
import { useValue } from '../value.ts';
import { actKeys, Acts, type Opened } from './acts.tsx';
import { Beside } from './beside.tsx';
import { CallDialog } from './call-dialog.tsx';
import { CallHead } from './call-head.tsx';
import { hold } from './held.ts';
import { OpeningCard } from './opening-card.tsx';
import { Outline } from './outline.tsx';
import { QuestionCard, questionKeys } from './question-card.tsx';
import { sessionOf, type Session } from './session.ts';
import { SoFar } from './so-far.tsx';
import { Unsent } from './unsent.tsx';
import { UrgentBanner } from './urgent-banner.tsx';

export function CallPage({ id }: { readonly id: string }) {
  const session = sessionOf(id);
  const { view, takesKeys } = useValue(session.state);
  const changed = useCallback(
    (call: string | null) => {
      if (call === null || call === id) session.read();
    },
    [session, id],
  );
  useChanges(changed);
  useEffect(() => {
    if (view !== null && view.at !== 'closed') hold(id);
  }, [id, view]);
  const main = useFocusOnChange(view);
  return (
    <main
      id="main"
      ref={main}
      className="page call"
      tabIndex={-1}
      data-ready={takesKeys && view !== null ? (view.question?.id ?? view.at) : undefined}
      data-seq={view?.seq}
    >
      <Unsent session={session} />
      {view === null ? null : <Call session={session} view={view} />}
    </main>
  );
}

interface Showing {
  readonly session: Session;
  readonly view: CallView;
}

function Call({ session, view }: Showing) {
  // The nurse may pass over the first words; they are asked for again after the caller is known.
  const [passed, setPassed] = useState(false);
  const [opened, open] = useState<Opened>(null);
  const opening = isOpening(view, passed);
  useKeys(keysOf({ session, view }, open, opening));
  return (
    <>
      <title>{view.patient?.name ?? WORDS.call.notIdentified}</title>
      <CallHead view={view} />
      <div className="columns">
        <Outline view={view} session={session} />
        <div className="middle">
          {opening ? (
            <OpeningCard session={session} pass={() => setPassed(true)} />
          ) : (
            <Middle session={session} view={view} />
          )}
          <SoFar view={view} open={open} />
        </div>
        <aside className="beside" aria-label={WORDS.act.side}>
          <Acts view={view} open={open} />
          <Beside view={view} />
        </aside>
      </div>
      {opened !== null && (
        <CallDialog opened={opened} view={view} session={session} close={() => open(null)} />
      )}
    </>
  );
}

function Middle({ session, view }: Showing) {
  const question =
    view.question === null ? null : (
      <QuestionCard key={view.question.id} view={view} question={view.question} session={session} />
    );
  return (
    <>
      <UrgentBanner view={view} />
      <Outcome view={view} session={session} question={question} />
    </>
  );
}

/** Before anything was asked the caller's own first words come first; they may be left empty. */
function isOpening(view: CallView, passed: boolean): boolean {
  const begun = view.answered.some(({ how }) => how !== 'record');
  return view.at === 'asking' && view.opening === null && !begun && !view.urgent && !passed;
}

function keysOf({ session, view }: Showing, open: (what: Opened) => void, opening: boolean): Keys {
  const question = view.question === null || opening ? {} : questionKeys(view.question, session);
  const back: Keys = view.mayGoBack ? { Backspace: () => session.press({ kind: 'back' }) } : {};
  return { ...actKeys(view, open, session), ...back, ...question };
}

/** What was newly put is where the keyboard is: the question, the words to tell, or the field to type in. */
function useFocusOnChange(view: CallView | null) {
  const main = useRef<HTMLElement>(null);
  const at =
    view === null ? null : `${view.question?.id ?? view.at}:${view.question?.again === true ? 2 : 1}`;
  const told = view?.told?.within ?? '';
  const urgent = view?.urgent === true;
  useEffect(() => {
    if (at === null || document.querySelector('dialog[open]') !== null) return;
    main.current?.querySelector<HTMLElement>('[data-focus]')?.focus();
  }, [at, told, urgent]);
  return main;
}

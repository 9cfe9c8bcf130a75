/** The frame that every page stands in: what always shows on top, the calls that are held, the page, the caution. */
import { lazy, Suspense } from 'react';
import { WORDS } from '../../words.ts';
import { HomePage } from '../home/home-page.tsx';
import { Link, useRoute, type Route } from '../route.tsx';
import { AlwaysBar } from './always-bar.tsx';
import { Caution } from './caution.tsx';
import { HeldCalls } from './held-calls.tsx';
import { LockScreen, useLocked } from './lock-screen.tsx';
import { usePractice } from './practice.ts';

const CallPage = lazy(() => import('../call/call-page.tsx').then(({ CallPage }) => ({ default: CallPage })));
const RecordPage = lazy(() =>
  import('../record/record-page.tsx').then(({ RecordPage }) => ({ default: RecordPage })),
);

const LogPage = lazy(() => import('../log/log-page.tsx').then(({ LogPage }) => ({ default: LogPage })));
const LogCallPage = lazy(() =>
  import('../log/log-call-page.tsx').then(({ LogCallPage }) => ({ default: LogCallPage })),
);

export function Desk() {
  const practice = usePractice();
  const route = useRoute();
  const locked = useLocked();
  return (
    <>
      <a className="skip" href="#main">
        {WORDS.frame.skip}
      </a>
      <AlwaysBar practice={practice} />
      {locked ? (
        <LockScreen practice={practice} />
      ) : (
        <>
          <HeldCalls route={route} />
          <Suspense fallback={<main id="main" className="page" aria-busy="true" />}>
            <Page route={route} />
          </Suspense>
        </>
      )}
      <Caution practice={practice} />
    </>
  );
}

function Page({ route }: { readonly route: Route }) {
  switch (route.page) {
    case 'home':
      return <HomePage />;
    case 'call':
      return <CallPage key={route.id} id={route.id} />;
    case 'record':
      return <RecordPage key={route.id} id={route.id} />;
    case 'log':
      return <LogPage />;
    case 'log-call':
      return <LogCallPage key={route.id} id={route.id} />;
    case 'nothing':
      return (
        <main id="main" className="page" tabIndex={-1}>
          <p className="notice">{WORDS.record.nothing}</p>
          <Link to="/">{WORDS.home.title}</Link>
        </main>
      );
  }
}

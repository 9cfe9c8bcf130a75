/** The calls held open in this browser, to switch between; a number with Alt goes there from anywhere. */
import { useCallback, useEffect } from 'react';
import { WORDS } from '../../words.ts';
import { heldCalls, letGo } from '../call/held.ts';
import { sessionOf } from '../call/session.ts';
import { useChanges } from '../live.ts';
import { dayText } from '../person.tsx';
import { callPath, go, Link, type Route } from '../route.tsx';
import { useValue } from '../value.ts';

const W = WORDS.frame;

export function HeldCalls({ route }: { readonly route: Route }) {
  const held = useValue(heldCalls);
  useSwitchKeys(held);
  const here = route.page === 'call' ? route.id : null;
  return (
    <nav className="held" aria-label={W.held}>
      <Link to="/" className="tab" current={route.page === 'home'}>
        {W.newCall}
      </Link>
      {held.map((id, at) => (
        <HeldCall key={id} id={id} at={at} current={id === here} />
      ))}
    </nav>
  );
}

function HeldCall({
  id,
  at,
  current,
}: {
  readonly id: string;
  readonly at: number;
  readonly current: boolean;
}) {
  const session = sessionOf(id);
  const { view, waiting } = useValue(session.state);
  const changed = useCallback(
    (call: string | null) => {
      if (call === id || session.state.get().view === null) session.read();
    },
    [session, id],
  );
  useChanges(changed);
  if (view === null && !current) return null;
  const [time] = view?.times ?? [];
  const who = view?.patient?.name ?? WORDS.call.notIdentified;
  return (
    <span className={`tab call${view?.urgent === true ? ' urgent' : ''}`}>
      <Link to={callPath(id)} current={current}>
        <kbd>{`Alt ${at + 1}`}</kbd> {who}
        {view?.operation !== null && time !== undefined && <small>{dayText(time)}</small>}
        {view?.urgent === true && <b>{W.urgent}</b>}
        {waiting.length > 0 && <b>{`${W.unsent} ${waiting.length}`}</b>}
      </Link>
      <button
        type="button"
        className="quiet put-away"
        aria-label={`${W.putAway}: ${who}`}
        onClick={() => {
          letGo(id);
          if (current) go('/');
        }}
      >
        ×
      </button>
    </span>
  );
}

function useSwitchKeys(held: readonly string[]): void {
  useEffect(() => {
    const take = (event: KeyboardEvent): void => {
      if (!event.altKey || event.ctrlKey || event.metaKey || !/^Digit[0-9]$/.test(event.code)) return;
      const at = Number(event.code.slice(-1));
      const id = held[at - 1];
      if (at > 0 && id === undefined) return;
      event.preventDefault();
      go(id === undefined ? '/' : callPath(id));
    };
    document.addEventListener('keydown', take);
    return () => document.removeEventListener('keydown', take);
  }, [held]);
}

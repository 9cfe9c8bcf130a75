/** Side by side with taking calls: what is promised and due, and the calls that are open, on the line as well. */
import { useCallback, useRef, useState } from 'react';
import { callsAnswerSchema, type CallLine, type CallsAnswer } from '../../../desk/contract/calls.ts';
import { promisesAnswerSchema, type PromisesAnswer } from '../../../desk/contract/promises.ts';
import { WORDS } from '../../words.ts';
import { get, type Refused } from '../api.ts';
import { useChanges } from '../live.ts';
import { OutcomeBadge } from '../outcome-label.tsx';
import { PromiseItem } from '../promise-item.tsx';
import { callPath, Link } from '../route.tsx';
import { Trouble } from '../trouble.tsx';

const W = WORDS.home;

interface Lists {
  readonly calls: CallsAnswer | null;
  readonly promises: PromisesAnswer | null;
}

export function SideBySide() {
  const [lists, setLists] = useState<Lists>({ calls: null, promises: null });
  const [trouble, setTrouble] = useState<Refused | null>(null);
  const under = useRef(false);
  const again = useRef(false);
  const refresh = useCallback(() => {
    // Many notices at once are one reading, and one more after it.
    again.current = under.current;
    if (under.current) return;
    under.current = true;
    void readLists().then((read) => {
      under.current = false;
      if ('why' in read) setTrouble(read);
      else {
        setTrouble(null);
        setLists(read);
      }
      if (again.current) refresh();
    });
  }, []);
  useChanges(refresh);
  const promises = lists.promises?.promises ?? [];
  const all = lists.calls?.open ?? [];
  const onTheLine = all.filter(
    ({ channel }) => channel === 'line' || channel === 'text' || channel === 'trial',
  );
  const open = all.filter((call) => !onTheLine.includes(call));
  return (
    <aside className="beside lists" aria-label={W.aside}>
      {trouble !== null && <Trouble refused={trouble} />}
      <List title={W.onTheLine} empty={W.noneOnTheLine} count={onTheLine.length}>
        {onTheLine.map((call) => (
          <CallItem key={call.id} call={call} takeOver />
        ))}
      </List>
      {(['escalation', 'review', 'call-back'] as const).map((kind) => {
        const due = promises.filter((promise) => promise.kind === kind);
        return (
          <List key={kind} title={WORDS.promiseLists[kind]} empty={W.noPromises} count={due.length}>
            {due.map((promise) => (
              <PromiseItem key={promise.id} promise={promise} />
            ))}
          </List>
        );
      })}
      <List title={W.openCalls} empty={W.noOpenCalls} count={open.length}>
        {open.map((call) => (
          <CallItem key={call.id} call={call} />
        ))}
      </List>
      <List title={W.recent} empty={W.noRecent} count={lists.calls?.recent.length ?? 0}>
        {lists.calls?.recent.map((call) => (
          <CallItem key={call.id} call={call} />
        ))}
      </List>
    </aside>
  );
}

async function readLists(): Promise<Lists | Refused> {
  const [calls, promises] = await Promise.all([
    get('/api/calls', callsAnswerSchema),
    get('/api/promises', promisesAnswerSchema),
  ]);
  if (!calls.ok) return calls;
  return promises.ok ? { calls: calls.value, promises: promises.value } : promises;
}

interface Listing {
  readonly title: string;
  readonly empty: string;
  readonly count: number;
  readonly children: React.ReactNode;
}

function List({ title, empty, count, children }: Listing) {
  return (
    <section>
      <h2>
        {title} {count > 0 && <span className="count">{count}</span>}
      </h2>
      {count === 0 ? <p className="hint">{empty}</p> : <ul>{children}</ul>}
    </section>
  );
}

function CallItem({ call, takeOver = false }: { readonly call: CallLine; readonly takeOver?: boolean }) {
  const to = call.state === 'open' ? callPath(call.id) : `${callPath(call.id)}/record`;
  return (
    <li className="call-line">
      <Link to={to}>{call.patient ?? W.unknownCaller}</Link>
      <span>
        {call.started.shown}
        {call.operation !== null && `, ${call.operation}`}
      </span>
      {takeOver && (
        <Link to={to} className="button">
          {W.takeOver}
        </Link>
      )}
      {call.outcome !== null && <OutcomeBadge outcome={call.outcome} />}
    </li>
  );
}

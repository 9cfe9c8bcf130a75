/** Side by side with taking calls: what is promised and due, and the calls that are open, on the line as well. */
import { useEffect, useState } from 'react';
import { callsAnswerSchema, type CallLine, type CallsAnswer } from '../../../desk/contract/calls.ts';
import { promisesAnswerSchema, type PromisesAnswer } from '../../../desk/contract/promises.ts';
import { WORDS } from '../../words.ts';
import { get, type Refused } from '../api.ts';
import { every } from '../browser.ts';
import { OutcomeBadge } from '../outcome-label.tsx';
import { PromiseItem } from '../promise-item.tsx';
import { callPath, Link } from '../route.tsx';
import { Trouble } from '../trouble.tsx';

const W = WORDS.home;
const HALF_MINUTE = 30_000;

interface Lists {
  readonly calls: CallsAnswer | null;
  readonly promises: PromisesAnswer | null;
}

export function SideBySide() {
  const [lists, setLists] = useState<Lists>({ calls: null, promises: null });
  const [trouble, setTrouble] = useState<Refused | null>(null);
  useEffect(() => {
    const refresh = async (): Promise<void> => {
      const [calls, promises] = await Promise.all([
        get('/api/calls', callsAnswerSchema),
        get('/api/promises', promisesAnswerSchema),
      ]);
      setTrouble(calls.ok ? (promises.ok ? null : promises) : calls);
      if (calls.ok && promises.ok) setLists({ calls: calls.value, promises: promises.value });
    };
    void refresh();
    return every(HALF_MINUTE, () => void refresh());
  }, []);
  const promises = lists.promises?.promises ?? [];
  const open = lists.calls?.open ?? [];
  return (
    <aside className="beside lists" aria-label={W.aside}>
      {trouble !== null && <Trouble refused={trouble} />}
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

function CallItem({ call }: { readonly call: CallLine }) {
  const to = call.state === 'open' ? callPath(call.id) : `${callPath(call.id)}/record`;
  return (
    <li className="call-line">
      <Link to={to}>{call.patient ?? W.unknownCaller}</Link>
      <span>
        {call.started.shown}
        {call.operation !== null && `, ${call.operation}`}
      </span>
      {call.outcome !== null && <OutcomeBadge outcome={call.outcome} />}
    </li>
  );
}

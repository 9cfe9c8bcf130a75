/** One promise: what is owed, by whom and by when; overdue is said in words. */
import type { PromiseShape } from '../../desk/contract/promises.ts';
import { WORDS } from '../words.ts';
import { callPath, Link } from './route.tsx';

const W = WORDS.promise;

type Promised = PromiseShape & { readonly patient?: string | null };

export function PromiseItem({ promise }: { readonly promise: Promised }) {
  const owner = promise.owner === 'desk' ? W.desk : promise.owner;
  const due = promise.due === null ? W.noTime : `${W.by} ${promise.due.shown}`;
  return (
    <li className={promise.overdue ? 'promise overdue' : 'promise'}>
      <Link to={callPath(promise.call)}>
        {promise.patient === undefined
          ? WORDS.promiseKinds[promise.kind]
          : (promise.patient ?? WORDS.home.unknownCaller)}
      </Link>
      <span>
        {due}
        {promise.overdue && <strong className="flag"> {W.overdue}</strong>}
        {promise.state !== 'open' && ` (${WORDS.promiseStates[promise.state]})`}
      </span>
      <span className="hint">
        {owner}
        {promise.ownerTelephone !== null && `, ${promise.ownerTelephone}`}
      </span>
    </li>
  );
}

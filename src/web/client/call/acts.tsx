/** What a nurse may do at any moment of a call, each with its key. */
import type { Answered, CallView } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';
import type { Keys } from '../keys.ts';
import { isToBeTold } from '../outcome/is-to-be-told.ts';
import { outcomeRank } from '../outcome-label.tsx';
import type { Session } from './session.ts';

const W = WORDS.act;

/** The dialog that is open over the call. */
export type Opened =
  | null
  | { readonly what: 'danger' | 'volunteer' | 'note' | 'hung-up' | 'raise' | 'lower' | 'confirm' }
  | { readonly what: 'correct'; readonly answered: Answered };

/** Keys that hold whatever is asked; the question's own keys come on top. */
export function actKeys(view: CallView, open: (what: Opened) => void, session: Session): Keys {
  if (view.at === 'closed') return {};
  return {
    '!': () => open({ what: 'danger' }),
    '/': () => open({ what: 'volunteer' }),
    m: () => open({ what: 'note' }),
    ...(isToBeTold(view) ? { t: () => session.press({ kind: 'tell' }) } : {}),
  };
}

interface Acting {
  readonly view: CallView;
  readonly open: (what: Opened) => void;
}

export function Acts({ view, open }: Acting) {
  if (view.at === 'closed') return null;
  const lowerable = view.result !== null && outcomeRank(view.result.outcome) > 0;
  return (
    <div className="acts">
      <button type="button" className="alarm" onClick={() => open({ what: 'danger' })}>
        <kbd>!</kbd> {W.danger}
      </button>
      <button type="button" onClick={() => open({ what: 'volunteer' })}>
        <kbd>/</kbd> {W.volunteer}
      </button>
      <button type="button" onClick={() => open({ what: 'note' })}>
        <kbd>M</kbd> {W.note}
      </button>
      <button type="button" onClick={() => open({ what: 'raise' })}>
        {W.raise}
      </button>
      {lowerable && view.loweringAsked === null && (
        <button type="button" onClick={() => open({ what: 'lower' })}>
          {W.lower}
        </button>
      )}
      {view.loweringAsked !== null && (
        <button type="button" onClick={() => open({ what: 'confirm' })}>
          {W.confirmWaiting}
        </button>
      )}
      {!view.cutOff && (
        <button type="button" onClick={() => open({ what: 'hung-up' })}>
          {W.hungUp}
        </button>
      )}
    </div>
  );
}

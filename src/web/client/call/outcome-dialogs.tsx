/** Raising with a reason; asking for a lower outcome; and a named clinician who confirms it. */
import { useState } from 'react';
import type { CallView } from '../../../desk/contract/call-view.ts';
import type { OutcomeShape } from '../../../desk/contract/common.ts';
import { OUTCOMES, WORDS } from '../../words.ts';
import { AskDialog } from '../ask-dialog.tsx';
import { outcomeLabel, outcomeRank } from '../outcome-label.tsx';
import type { InDialog } from './call-dialog.tsx';

const W = WORDS.act;

/** Everything is offered while no outcome is known yet; raising can only raise. */
export function RaiseDialog({ view, session, close }: InDialog) {
  return (
    <Choose
      title={W.raiseTitle}
      hint={W.raiseHint}
      offered={OUTCOMES.slice(rankNow(view) + 1)}
      close={close}
      done={(to, why) => session.send({ kind: 'raise', to, why })}
    />
  );
}

export function AskLoweringDialog({ view, session, close }: InDialog) {
  return (
    <Choose
      title={W.lowerTitle}
      hint={W.lowerHint}
      offered={OUTCOMES.slice(0, rankNow(view))}
      close={close}
      done={(to, why) => session.send({ kind: 'ask-lowering', to, why })}
    />
  );
}

function rankNow(view: CallView): number {
  return view.result === null ? 0 : outcomeRank(view.result.outcome);
}

interface Choosing {
  readonly title: string;
  readonly hint: string;
  readonly offered: readonly (OutcomeShape & { readonly label: string })[];
  readonly done: (to: OutcomeShape, why: string) => void;
  readonly close: () => void;
}

function Choose({ title, hint, offered, done, close }: Choosing) {
  const [label, setLabel] = useState(offered[0]?.label ?? '');
  const [why, setWhy] = useState('');
  const send = (): void => {
    const chosen = offered.find((one) => one.label === label);
    if (chosen === undefined || why.trim() === '') return;
    const { outcome, within, emergency } = chosen;
    done({ outcome, within, emergency }, why.trim());
    close();
  };
  return (
    <AskDialog title={title} hint={hint} submit={W.send} send={send} close={close}>
      <label className="field">
        <span>{W.to}</span>
        <select value={label} onChange={(event) => setLabel(event.target.value)}>
          {offered.map((one) => (
            <option key={one.label}>{one.label}</option>
          ))}
        </select>
      </label>
      <Why why={why} setWhy={setWhy} />
    </AskDialog>
  );
}

function Why({ why, setWhy }: { readonly why: string; readonly setWhy: (why: string) => void }) {
  return (
    <label className="field">
      <span>{W.whyField}</span>
      <textarea
        rows={3}
        maxLength={4000}
        required
        value={why}
        onChange={(event) => setWhy(event.target.value)}
      />
    </label>
  );
}

export function ConfirmLoweringDialog({ view, session, close }: InDialog) {
  const [clinician, setClinician] = useState('');
  const [spoke, setSpoke] = useState(false);
  const [why, setWhy] = useState('');
  const to = view.loweringAsked;
  if (to === null) return null;
  const send = (): void => {
    if (clinician.trim() === '' || why.trim() === '') return;
    session.send({
      kind: 'lower',
      to,
      clinician: clinician.trim(),
      spokeToPatient: spoke,
      why: why.trim(),
    });
    close();
  };
  return (
    <AskDialog
      title={W.confirmTitle}
      hint={`${W.to}: ${outcomeLabel(to)}`}
      submit={W.confirm}
      send={send}
      close={close}
    >
      <label className="field">
        <span>{W.clinician}</span>
        <input
          type="text"
          maxLength={120}
          required
          autoComplete="off"
          value={clinician}
          onChange={(event) => setClinician(event.target.value)}
        />
      </label>
      <label className="tick">
        <input type="checkbox" checked={spoke} onChange={(event) => setSpoke(event.target.checked)} />{' '}
        {W.spoke}
      </label>
      <Why why={why} setWhy={setWhy} />
    </AskDialog>
  );
}

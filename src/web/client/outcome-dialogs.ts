/** Raising with a reason; asking for a lower outcome; and a named clinician who confirms it. */
import type { CallView } from '../../desk/contract/call-view.ts';
import type { OutcomeShape } from '../../desk/contract/common.ts';
import { OUTCOMES, WORDS } from '../words.ts';
import { field, openDialog } from './dialog.ts';
import { el } from './element.ts';
import { outcomeLabel, outcomeRank } from './outcome-label.ts';
import type { Sender } from './sender.ts';

const W = WORDS.act;

/** Everything is offered while no outcome is known yet; raising can only raise. */
export function raiseOutcome(view: CallView, sending: Sender): void {
  const now = view.result === null ? 0 : outcomeRank(view.result.outcome);
  choose({
    title: W.raiseTitle,
    hint: W.raiseHint,
    offered: OUTCOMES.slice(now + 1),
    done: (to, why) => sending.send({ kind: 'raise', to, why }),
  });
}

export function askLowering(view: CallView, sending: Sender): void {
  const now = view.result === null ? 0 : outcomeRank(view.result.outcome);
  choose({
    title: W.lowerTitle,
    hint: W.lowerHint,
    offered: OUTCOMES.slice(0, now),
    done: (to, why) => sending.send({ kind: 'ask-lowering', to, why }),
  });
}

interface Choosing {
  readonly title: string;
  readonly hint: string;
  readonly offered: readonly (OutcomeShape & { readonly label: string })[];
  readonly done: (to: OutcomeShape, why: string) => void;
}

function choose({ title, hint, offered, done }: Choosing): void {
  const to = el('select', {}, ...offered.map(({ label }) => el('option', { value: label }, label)));
  const why = el('textarea', { rows: '3', maxlength: '4000', required: true });
  openDialog({
    title,
    hint,
    body: [field(W.to, to), field(W.whyField, why)],
    submit: W.send,
    done: () => {
      const chosen = offered.find(({ label }) => label === to.value);
      const text = why.value.trim();
      if (chosen === undefined || text === '') return false;
      const { outcome, within, emergency } = chosen;
      done({ outcome, within, emergency }, text);
      return true;
    },
  });
}

export function confirmLowering(to: OutcomeShape, sending: Sender): void {
  const clinician = el('input', { type: 'text', maxlength: '120', required: true, autocomplete: 'off' });
  const spoke = el('input', { type: 'checkbox' });
  const why = el('textarea', { rows: '3', maxlength: '4000', required: true });
  openDialog({
    title: W.confirmTitle,
    hint: `${W.to}: ${outcomeLabel(to)}`,
    body: [
      field(W.clinician, clinician),
      el('label', { class: 'tick' }, spoke, ` ${W.spoke}`),
      field(W.whyField, why),
    ],
    submit: W.confirm,
    done: () => {
      const name = clinician.value.trim();
      const text = why.value.trim();
      if (name === '' || text === '') return false;
      sending.send({ kind: 'lower', to, clinician: name, spokeToPatient: spoke.checked, why: text });
      return true;
    },
  });
}

/** A desk left alone covers what is on it; the danger list and whom to ring stay in sight. */
import { useEffect } from 'react';
import type { PracticeAnswer } from '../../../desk/contract/practice.ts';
import { WORDS } from '../../words.ts';
import { every, now } from '../browser.ts';
import { makeValue, useValue } from '../value.ts';
import { heldCalls } from '../call/held.ts';
import { sessionOf } from '../call/session.ts';
import { get } from '../api.ts';
import { practiceAnswerSchema } from '../../../desk/contract/practice.ts';

const W = WORDS.frame;
const LOCK_AFTER_MILLIS = 10 * 60_000;
const LOOK_MILLIS = 5_000;

const locked = makeValue(false);
let lastTouch = now();

/** Never while a call of this desk is open, and not within ten minutes of the last key or touch. */
export function useLocked(): boolean {
  useEffect(() => {
    const touched = (): void => {
      lastTouch = now();
    };
    const look = (): void => {
      if (now() - lastTouch >= LOCK_AFTER_MILLIS && !isCallOpen()) locked.set(true);
    };
    document.addEventListener('keydown', touched, { capture: true });
    document.addEventListener('pointerdown', touched, { capture: true });
    const stop = every(LOOK_MILLIS, look);
    return () => {
      stop();
      document.removeEventListener('keydown', touched, { capture: true });
      document.removeEventListener('pointerdown', touched, { capture: true });
    };
  }, []);
  return useValue(locked);
}

function isCallOpen(): boolean {
  return heldCalls.get().some((id) => {
    const { view, waiting } = sessionOf(id).state.get();
    return waiting.length > 0 || (view !== null && view.at !== 'closed');
  });
}

export function LockScreen({ practice }: { readonly practice: PracticeAnswer | null }) {
  const unlock = (): void => {
    // The server knows whether this session is still somebody's.
    void get('/api/practice', practiceAnswerSchema).then((answer) => {
      if (!answer.ok && answer.why === 'signed-out') location.assign('/sign-in');
      else locked.set(false);
    });
  };
  return (
    <main id="main" className="page locked" tabIndex={-1}>
      <section className="sheet">
        <h1>{W.lockedTitle}</h1>
        <p>{W.lockedHint}</p>
        <button type="button" className="main" onClick={unlock}>
          {W.unlock}
        </button>
      </section>
      <section className="sheet">
        <h2>{WORDS.act.dangerTitle}</h2>
        <p className="hint">{W.lockedDangers}</p>
        <ul className="danger-words">
          {practice?.dangers.map((danger) => (
            <li key={danger}>{danger}</li>
          ))}
        </ul>
        <p>{practice?.reachClinician}</p>
      </section>
    </main>
  );
}

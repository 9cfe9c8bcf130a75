/** Says what went wrong and whom to ring meanwhile, and offers what may help: try again, sign in, or let it be. */
import type { ReactNode } from 'react';
import { WORDS } from '../words.ts';
import type { Refused } from './api.ts';
import { practice } from './frame/practice.ts';
import { useValue } from './value.ts';

const W = WORDS.trouble;

/** After these nobody needs to be rung: what was typed is typed again. */
const MISTYPED = ['bad-request', 'out-of-range'];

interface Telling {
  readonly refused: Refused;
  readonly retry?: () => void;
  readonly dismiss?: () => void;
  readonly children?: ReactNode;
}

export function Trouble({ refused, retry, dismiss, children }: Telling) {
  const { why, fault } = refused;
  const here = useValue(practice);
  const [first] = MISTYPED.includes(fault?.fault.code ?? '') ? [] : (fault?.ring ?? here?.onCall ?? []);
  return (
    <div className="trouble" id="trouble" role="alert">
      <p className="what">{messageOf(refused)}</p>
      {first !== undefined && (
        <p>
          {W.ring} {first.name}, {first.shown}
        </p>
      )}
      {children}
      <div className="row">
        {why === 'signed-out' && (
          <a className="button" href="/sign-in" target="_blank" rel="noreferrer">
            {W.signIn}
          </a>
        )}
        {retry !== undefined && (
          <button type="button" onClick={retry}>
            {W.retry}
          </button>
        )}
        {dismiss !== undefined && (
          <button type="button" onClick={dismiss}>
            {W.dismiss}
          </button>
        )}
      </div>
    </div>
  );
}

function messageOf({ why, fault }: Refused): string {
  switch (why) {
    case 'silent':
      return W.network;
    case 'signed-out':
      return W.signedOut;
    case 'fault':
      return fault?.fault.message ?? W.network;
  }
}

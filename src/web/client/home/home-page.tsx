/** The first page: find who rings and start, or go on with what is open. */
import { useRef, useState } from 'react';
import { turnAnswerSchema } from '../../../desk/contract/call-view.ts';
import type { StartRequest } from '../../../desk/contract/turns.ts';
import { WORDS } from '../../words.ts';
import { mayRetry, post, type Refused } from '../api.ts';
import { newId } from '../browser.ts';
import { hold } from '../call/held.ts';
import { callPath, go } from '../route.tsx';
import { Trouble } from '../trouble.tsx';
import { Finder, type Chosen } from './finder.tsx';
import { SideBySide } from './side-by-side.tsx';

const W = WORDS.home;

export function HomePage() {
  const [number, setNumber] = useState('');
  const [direction, setDirection] = useState<StartRequest['direction']>('patient-rang');
  const [trouble, setTrouble] = useState<{ refused: Refused; chosen: Chosen | null } | null>(null);
  const starting = useRef<StartRequest | null>(null);
  const busy = useRef(false);

  const begin = (chosen: Chosen | null): void => {
    if (busy.current) return;
    busy.current = true;
    setTrouble(null);
    const wanted = {
      callerNumber: number.trim() === '' ? null : number,
      direction,
      chosen: chosen === null ? null : { patient: chosen.patient.id, operation: chosen.operation.id },
    };
    const request = sameAs(starting.current, wanted) ?? { ...wanted, call: newId(), token: newId() };
    starting.current = request;
    void post('/api/calls', request, turnAnswerSchema).then((answer) => {
      busy.current = false;
      if (answer.ok) {
        hold(answer.value.view.id);
        go(callPath(answer.value.view.id));
      } else setTrouble({ refused: answer, chosen });
    });
  };
  return (
    <main id="main" className="page home" tabIndex={-1}>
      <title>{W.title}</title>
      <div className="middle">
        <h1>{W.title}</h1>
        {trouble !== null && (
          <Trouble
            refused={trouble.refused}
            retry={mayRetry(trouble.refused) ? () => begin(trouble.chosen) : undefined}
          />
        )}
        <section className="sheet">
          <Finder label={W.find} choose={W.start} chosen={begin} focus />
          <div className="pair">
            <label className="field">
              <span>{W.callerNumber}</span>
              <input
                type="tel"
                autoComplete="off"
                value={number}
                placeholder={W.callerNumberHint}
                onChange={(event) => setNumber(event.target.value)}
              />
            </label>
            <label className="field">
              <span>{W.direction}</span>
              <select value={direction} onChange={(event) => setDirection(directionOf(event.target.value))}>
                {Object.entries(WORDS.directions).map(([value, label]) => (
                  <option key={value} value={value}>
                    {label}
                  </option>
                ))}
              </select>
            </label>
            <div className="field">
              <span className="hint">{W.startNowHint}</span>
              <button type="button" onClick={() => begin(null)}>
                {W.startNow}
              </button>
            </div>
          </div>
        </section>
      </div>
      <SideBySide />
    </main>
  );
}

function directionOf(value: string): StartRequest['direction'] {
  return value === 'call-back' || value === 'planned-check' ? value : 'patient-rang';
}

/** The request that is under way, when nothing about it changed: a second press never starts a second call. */
function sameAs(
  request: StartRequest | null,
  wanted: Omit<StartRequest, 'call' | 'token'>,
): StartRequest | null {
  if (request === null) return null;
  const { callerNumber, direction, chosen } = request;
  const same = JSON.stringify({ callerNumber, direction, chosen }) === JSON.stringify(wanted);
  return same ? request : null;
}

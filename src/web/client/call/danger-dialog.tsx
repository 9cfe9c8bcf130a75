/** The immediate dangers at one key: what is ticked counts at once, whatever question is open. */
import { useState } from 'react';
import { WORDS } from '../../words.ts';
import { AskDialog } from '../ask-dialog.tsx';
import type { InDialog } from './call-dialog.tsx';

const W = WORDS.act;

type Ticked = Readonly<Record<string, 'yes' | 'unsure'>>;

export function DangerDialog({ view, session, close }: InDialog) {
  const [ticked, setTicked] = useState<Ticked>({});
  const [words, setWords] = useState('');
  const tick = (finding: string, value: 'yes' | 'unsure'): void =>
    setTicked(({ [finding]: before, ...others }) =>
      before === value ? others : { ...others, [finding]: value },
    );
  const send = (): void => {
    if (Object.keys(ticked).length === 0) return;
    const text = words.trim();
    session.send({
      kind: 'volunteer',
      findings: ticked,
      words: text === '' ? null : text,
      correction: null,
    });
    close();
  };
  return (
    <AskDialog title={W.dangerTitle} hint={W.dangerHint} submit={W.send} wide send={send} close={close}>
      <div className="dangers">
        {view.dangers.map(({ finding, is, value }) => (
          <div key={finding} className="danger-row">
            <label>
              <input
                type="checkbox"
                checked={ticked[finding] === 'yes'}
                onChange={() => tick(finding, 'yes')}
              />
              <span>
                {is}
                {/* A danger that is held already cannot be unticked here. */}
                {value !== null && value !== 'no' && (
                  <strong>
                    {' '}
                    ({W.saidAlready} {value})
                  </strong>
                )}
              </span>
            </label>
            <label className="hint">
              <input
                type="checkbox"
                aria-label={`${W.notKnown}: ${is}`}
                checked={ticked[finding] === 'unsure'}
                onChange={() => tick(finding, 'unsure')}
              />
              {W.notKnown}
            </label>
          </div>
        ))}
      </div>
      <label className="field">
        <span>{W.words}</span>
        <input
          type="text"
          maxLength={4000}
          autoComplete="off"
          value={words}
          onChange={(event) => setWords(event.target.value)}
        />
      </label>
    </AskDialog>
  );
}

/** One finding that was understood or picked: its value to accept or change, the words behind it, and a way to drop it. */
import { useState } from 'react';
import type { FindingLine } from '../../../desk/contract/findings.ts';
import { WORDS } from '../../words.ts';
import { typedNumber } from './answer-input.ts';

const W = WORDS.act;

interface Setting {
  readonly line: FindingLine;
  readonly value: string | number | null;
  readonly behind: string | null;
  /** Null drops it. */
  readonly set: (value: string | number | null) => void;
}

export function FindingValueField({ line, value, behind, set }: Setting) {
  return (
    <div className="finding">
      <label>
        <span>
          {line.is}
          {line.value !== null && (
            <span className="hint">
              {' '}
              ({W.saidAlready} {line.value})
            </span>
          )}
          {behind !== null && behind !== '' && <q className="hint">{behind}</q>}
        </span>
        {line.number === null ? (
          <select
            value={String(value)}
            onChange={(event) =>
              set(line.options.find((one) => String(one.value) === event.target.value)?.value ?? null)
            }
          >
            {line.options.map((option) => (
              <option key={option.value} value={String(option.value)}>
                {option.label}
              </option>
            ))}
          </select>
        ) : (
          <NumberField line={line} value={value} set={set} />
        )}
      </label>
      <button type="button" className="quiet" aria-label={`${W.drop}: ${line.is}`} onClick={() => set(null)}>
        {W.drop}
      </button>
    </div>
  );
}

function NumberField({ line, value, set }: Pick<Setting, 'line' | 'value' | 'set'>) {
  const [text, setText] = useState(typeof value === 'number' ? String(value) : '');
  return (
    <input
      type="text"
      inputMode="decimal"
      autoComplete="off"
      placeholder={`${line.number?.min ?? ''}–${line.number?.max ?? ''} ${line.number?.unit ?? ''}`}
      value={text}
      onChange={(event) => {
        setText(event.target.value);
        set(typedNumber(event.target.value) ?? 'unsure');
      }}
    />
  );
}

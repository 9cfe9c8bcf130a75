/** The record of a call, for reading and for print. */
import { useEffect, useState } from 'react';
import { recordAnswerSchema, type RecordAnswer } from '../../../desk/contract/record.ts';
import { WORDS } from '../../words.ts';
import { get, type Refused } from '../api.ts';
import { callPath, Link } from '../route.tsx';
import { Trouble } from '../trouble.tsx';

export function RecordPage({ id }: { readonly id: string }) {
  const [record, setRecord] = useState<RecordAnswer | null>(null);
  const [trouble, setTrouble] = useState<Refused | null>(null);
  useEffect(() => {
    void get(`/api/calls/${encodeURIComponent(id)}/record`, recordAnswerSchema).then((answer) => {
      if (answer.ok) setRecord(answer.value);
      else setTrouble(answer);
    });
  }, [id]);
  return (
    <main id="main" className="page paper" tabIndex={-1}>
      {trouble !== null && <Trouble refused={trouble} />}
      {record !== null && (
        <>
          <title>{record.title}</title>
          <h1>{record.title}</h1>
          <p className="tools">
            <button type="button" onClick={() => print()}>
              {WORDS.record.print}
            </button>
            <Link to={callPath(id)}>{WORDS.record.back}</Link>
          </p>
          <RecordSections record={record} />
        </>
      )}
    </main>
  );
}

export function RecordSections({ record }: { readonly record: RecordAnswer }) {
  return (
    <>
      <ul className="record-head">
        {record.head.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      {record.sections.map(({ title, lines }) => (
        <section key={title} className="sheet record">
          <h2>{title}</h2>
          {lines.map(({ text, depth }, at) => (
            <p key={`${at} ${text}`} className={depth === 0 ? 'line' : 'line deep'}>
              {text}
            </p>
          ))}
        </section>
      ))}
    </>
  );
}

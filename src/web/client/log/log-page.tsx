/** The lead nurse's log: calls by what matters, narrowed as it is typed; one call opens to be re-read. */
import { useEffect, useState } from 'react';
import { logAnswerSchema, type LogAnswer, type LogLine } from '../../../desk/contract/log.ts';
import { LOG_WORDS } from '../../log-words.ts';
import { WORDS } from '../../words.ts';
import { get, type Refused } from '../api.ts';
import { later } from '../browser.ts';
import { OutcomeBadge } from '../outcome-label.tsx';
import { Link } from '../route.tsx';
import { Trouble } from '../trouble.tsx';
import { csvOf } from './csv.ts';
import { LogFilterForm, type Filter } from './log-filter.tsx';

const W = LOG_WORDS;
const PAUSE_MILLIS = 200;

export function LogPage() {
  const [filter, setFilter] = useState<Filter>({});
  const [log, setLog] = useState<LogAnswer | null>(null);
  const [trouble, setTrouble] = useState<Refused | null>(null);
  const query = new URLSearchParams(filter).toString();
  useEffect(() => {
    let latest = true;
    const stop = later(PAUSE_MILLIS, () => {
      void get(`/api/log?${query}`, logAnswerSchema).then((answer) => {
        if (!latest) return;
        setTrouble(answer.ok ? null : answer);
        if (answer.ok) setLog(answer.value);
      });
    });
    return () => {
      latest = false;
      stop();
    };
  }, [query]);
  return (
    <main id="main" className="page log" tabIndex={-1}>
      <title>{W.title}</title>
      <div className="log-head">
        <h1>{W.title}</h1>
        <div className="row tools">
          <button type="button" onClick={() => print()}>
            {WORDS.record.print}
          </button>
          <button type="button" disabled={log === null} onClick={() => save(log?.lines ?? [])}>
            {W.csv}
          </button>
        </div>
      </div>
      <LogFilterForm log={log} filter={filter} change={setFilter} />
      {trouble !== null && <Trouble refused={trouble} />}
      {log !== null && (
        <>
          <p className="hint" role="status">
            {countText(log)}
          </p>
          <LogTable lines={log.lines} />
        </>
      )}
    </main>
  );
}

function countText({ lines, looked, more, readForWords, from, to }: LogAnswer): string {
  const calls = `${lines.length} ${W.of} ${looked} ${W.calls}, ${from} – ${to}.`;
  const words = readForWords === null ? '' : ` ${W.readForWords} ${readForWords}.`;
  return `${calls}${words}${more ? ` ${W.more}` : ''}`;
}

function LogTable({ lines }: { readonly lines: readonly LogLine[] }) {
  if (lines.length === 0) return <p className="notice">{W.none}</p>;
  return (
    <div className="table" role="region" aria-label={W.title} tabIndex={0}>
      <table>
        <thead>
          <tr>
            <th scope="col">{W.started}</th>
            <th scope="col">{W.patient}</th>
            <th scope="col">{W.operation}</th>
            <th scope="col">{WORDS.person.day}</th>
            <th scope="col">{W.outcome}</th>
            <th scope="col">{W.about}</th>
            <th scope="col">{W.by}</th>
            <th scope="col">{W.channel}</th>
            <th scope="col">{W.reviewed}</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={line.id}>
              <th scope="row">
                <Link to={`/log/${encodeURIComponent(line.id)}`}>{line.started.shown}</Link>
              </th>
              <td>{line.patient ?? WORDS.home.unknownCaller}</td>
              <td>{line.operation ?? '–'}</td>
              <td className="number">{line.day ?? '–'}</td>
              <td>{line.outcome === null ? W.open : <OutcomeBadge outcome={line.outcome} />}</td>
              <td>{line.about ?? '–'}</td>
              <td>{line.takenBy ?? W.nobody}</td>
              <td>{W.channels[line.channel]}</td>
              <td>{line.reviewed ? W.yes : W.no}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function save(lines: readonly LogLine[]): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([csvOf(lines)], { type: 'text/csv;charset=utf-8' }));
  link.download = 'call-log.csv';
  link.click();
  URL.revokeObjectURL(link.href);
}

/** Who it is, what was done, which day: one line that never leaves the top of a call. */
import type { CallView } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';
import { Allergies, DayMark, OperationFacts } from '../person.tsx';

const W = WORDS.call;

export function CallHead({ view }: { readonly view: CallView }) {
  const { patient, operation } = view;
  return (
    <section className="head" aria-label={W.script}>
      <div className="who">
        <h1>{patient?.name ?? W.notIdentified}</h1>
        {patient !== null && (
          <span>
            {WORDS.person.born} {patient.bornShown}
          </span>
        )}
        {patient !== null && <Allergies patient={patient} />}
        <span className="call-back">
          {W.callBack}: <strong>{view.callBackNumber ?? W.callBackUnknown}</strong>
        </span>
      </div>
      <div className="what">
        {operation !== null && <DayMark times={view.times} />}
        {operation !== null && (
          <span className="operation">
            <strong>{operation.what}</strong>, {operation.on}
          </span>
        )}
        {operation !== null && <OperationFacts operation={operation} />}
        <span className="script">
          {W.script}: {view.script.title}. {W.startedAt} {view.started.shown}.
        </span>
      </div>
    </section>
  );
}

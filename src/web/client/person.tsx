/** Shows a patient and an operation; what is not recorded is said to be so. */
import type { OperationShape, PatientShape } from '../../desk/contract/people.ts';
import { WORDS } from '../words.ts';

const W = WORDS.person;

interface Time {
  readonly day: number | null;
  readonly hours: number | null;
}

/** "Day 2, 41 h since surgery". */
export function dayText(time: Time): string {
  if (time.day === null) return W.dayUnknown;
  if (time.day < 0) return W.before;
  const hours = time.hours === null ? '' : `, ${time.hours} ${W.hours}`;
  return `${W.day} ${time.day}${hours}`;
}

export function DayMark({ times }: { readonly times: readonly Time[] }) {
  return <strong className="day">{times.map(dayText).join(' or ')}</strong>;
}

export function Allergies({ patient }: { readonly patient: PatientShape }) {
  const allergies = patient.allergies.join(', ');
  return (
    <span className={allergies === '' ? 'allergies' : 'allergies some'}>
      {W.allergies}: <strong>{allergies || W.noAllergies}</strong>
    </span>
  );
}

export function OperationFacts({ operation }: { readonly operation: OperationShape }) {
  const facts: readonly (readonly [string, string, boolean])[] = [
    [W.side, operation.side === null ? W.notRecorded : W.sides[operation.side], true],
    [W.surgeon, operation.surgeon, true],
    [W.drain, yesNo(operation.drain), operation.drain !== false],
    [W.implant, yesNo(operation.implant), operation.implant !== false],
    [W.block, yesNo(operation.block), operation.block !== false],
    [
      W.bloodThinner,
      operation.bloodThinner === null ? W.notRecorded : operation.bloodThinner || W.none,
      operation.bloodThinner !== '',
    ],
    [
      W.anaesthetic,
      operation.anaesthetic === null ? W.notRecorded : W.anaesthetics[operation.anaesthetic],
      true,
    ],
  ];
  return (
    <dl className="facts">
      {facts.map(([name, text, counts]) => (
        <div key={name} className={counts ? 'counts' : undefined}>
          <dt>{name}</dt>
          <dd>{text}</dd>
        </div>
      ))}
    </dl>
  );
}

function yesNo(value: boolean | null): string {
  return value === null ? W.notRecorded : value ? W.yes : W.no;
}

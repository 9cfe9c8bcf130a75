/** Shows a patient and an operation; what is not recorded is said to be so. */
import type { OperationShape, PatientShape } from '../../desk/contract/people.ts';
import { WORDS } from '../words.ts';
import { el, type Child } from './element.ts';

const W = WORDS.person;

export function patientLine(patient: PatientShape): HTMLElement {
  return el('p', { class: 'patient' }, el('strong', {}, patient.name), ', ', ...bornAndAllergies(patient));
}

/** Birth date and allergies, as they follow a name. */
export function bornAndAllergies(patient: PatientShape): readonly Child[] {
  const allergies = patient.allergies.join(', ');
  return [
    `${W.born} ${patient.bornShown}. ${W.allergies}: `,
    el('strong', { class: allergies === '' ? '' : 'warn' }, allergies || W.noAllergies),
  ];
}

/** "Day 2, 41 h since surgery". */
export function dayText(time: { readonly day: number | null; readonly hours: number | null }): string {
  if (time.day === null) return W.dayUnknown;
  if (time.day < 0) return W.before;
  const hours = time.hours === null ? '' : `, ${time.hours} ${W.hours}`;
  return `${W.day} ${time.day}${hours}`;
}

export function operationFacts(operation: OperationShape): HTMLElement {
  const facts: readonly (readonly [string, string])[] = [
    [W.side, operation.side === null ? W.notRecorded : W.sides[operation.side]],
    [W.surgeon, operation.surgeon],
    [W.anaesthetic, operation.anaesthetic === null ? W.notRecorded : W.anaesthetics[operation.anaesthetic]],
    [W.drain, yesNo(operation.drain)],
    [W.implant, yesNo(operation.implant)],
    [W.block, yesNo(operation.block)],
    [W.bloodThinner, operation.bloodThinner === null ? W.notRecorded : operation.bloodThinner || W.none],
  ];
  return el('dl', { class: 'facts' }, ...facts.map(([name, text]) => fact(name, text)));
}

function fact(name: string, text: string): Child {
  return el('div', {}, el('dt', {}, name), el('dd', {}, text));
}

function yesNo(value: boolean | null): string {
  return value === null ? W.notRecorded : value ? W.yes : W.no;
}

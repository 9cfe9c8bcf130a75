/** Which keyed tokens find a patient: each telephone number, the birth date, and every beginning of the surname. */
import { foldName } from '../basics/fold-name.ts';
import type { Patient } from '../people/patient.ts';
import type { PatientQuery } from '../people/people-store.ts';
import { searchToken } from './sealing.ts';

// Longer beginnings than this find what this many letters find.
const LONGEST_PREFIX = 24;

export function tokensOf(patient: Patient, searchKey: Buffer): readonly string[] {
  const words = [
    ...patient.telephones.map((telephone) => `telephone:${telephone}`),
    `born:${patient.born}`,
    ...prefixes(foldName(patient.surname)).map((prefix) => `surname:${prefix}`),
  ];
  return [...new Set(words)].map((word) => searchToken(searchKey, word));
}

/** The one token a query looks for, or null when it has nothing to look for. */
export function tokenOf(query: PatientQuery, searchKey: Buffer): string | null {
  const word = wordOf(query);
  return word === null ? null : searchToken(searchKey, word);
}

function wordOf(query: PatientQuery): string | null {
  switch (query.by) {
    case 'telephone':
      return `telephone:${query.telephone}`;
    case 'born':
      return `born:${query.born}`;
    case 'surname': {
      const prefix = prefixes(foldName(query.surname)).at(-1);
      return prefix === undefined ? null : `surname:${prefix}`;
    }
  }
}

function prefixes(letters: string): readonly string[] {
  const all = [...letters].slice(0, LONGEST_PREFIX);
  return all.map((_, index) => all.slice(0, index + 1).join(''));
}

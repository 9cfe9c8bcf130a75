/** What the desk needs from a store of patients and operations; found by keyed search, never by free text. */
import type { OperationId, PatientId } from '../basics/ids.ts';
import type { Result } from '../basics/result.ts';
import type { Operation, Patient } from './patient.ts';

export interface PatientMatch {
  readonly patient: Patient;
  readonly operations: readonly Operation[];
}

/**
 * What was typed or rung from, already normalised by `people/search-words.ts`: a telephone number in E.164,
 * a birth date as YYYY-MM-DD, or the beginning of a surname (folded to lower-case letters).
 */
export type PatientQuery =
  | { readonly by: 'telephone'; readonly telephone: string }
  | { readonly by: 'born'; readonly born: string }
  | { readonly by: 'surname'; readonly surname: string };

export interface PeopleStore {
  /** Adds or replaces; the search tokens of the patient are replaced with it. */
  readonly savePatient: (patient: Patient) => Promise<Result<void, 'store-down'>>;
  readonly saveOperation: (operation: Operation) => Promise<Result<void, 'store-down'>>;
  /** At most `limit` matches, by surname; operations newest first. */
  readonly find: (
    query: PatientQuery,
    limit: number,
  ) => Promise<Result<readonly PatientMatch[], 'store-down'>>;
  readonly patient: (id: PatientId) => Promise<Result<PatientMatch | null, 'store-down'>>;
  readonly operation: (id: OperationId) => Promise<Result<Operation | null, 'store-down'>>;
  readonly countPatients: () => Promise<Result<number, 'store-down'>>;
  /**
   * Destroys the patient's key, search tokens and personal data. Calls keep their open facts and their chain still
   * verifies; what was sealed can no longer be read.
   */
  readonly erasePatient: (id: PatientId) => Promise<Result<void, 'store-down'>>;
}

/** What the desk's endpoints need; given by whoever composes the program. */
import type { TurnDeps } from '../call/turn.ts';
import type { Outbox } from '../follow/outbox.ts';
import type { AuditTrail } from '../people/audit-trail.ts';
import type { PeopleStore } from '../people/people-store.ts';
import type { Place } from '../people/places.ts';
import type { Practice } from '../people/practice.ts';
import type { CallAudits } from '../review/call-audit.ts';
import type { Live } from './live.ts';

export interface DeskDeps {
  readonly live: Live;
  readonly callAudits: CallAudits;
  readonly turn: TurnDeps;
  readonly people: PeopleStore;
  readonly audit: AuditTrail;
  readonly outbox: Pick<Outbox, 'recent'>;
  readonly practice: Practice;
  readonly place: Place;
  /** What an operation is called on screen; the id in plain words where there is no script for it. */
  readonly procedureTitle: (procedure: string) => string;
}

/** What follows from a turn outside the call: pages, rings, texts, deadlines. Decided purely, written with the turn. */
import type { CallId } from '../basics/ids.ts';
import type { Patient } from '../people/patient.ts';
import type { Paging } from './attempt.ts';
import type { Channel } from './call-store.ts';
import type { Stamp } from './events.ts';
import type { TurnInput } from './input.ts';
import type { OutboxWrite } from './outbox.ts';
import type { Standing } from './step.ts';

export interface TurnMade {
  readonly call: CallId;
  readonly channel: Channel;
  readonly input: TurnInput;
  /** Null when the call begins with this turn. */
  readonly before: Standing | null;
  /** With its promises as they stand now. */
  readonly after: Standing;
  /** Null while nobody is identified. */
  readonly patient: Patient | null;
  readonly stamp: Stamp;
}

export interface Followed {
  readonly paging: Paging | null;
  readonly messages: readonly OutboxWrite[];
}

/** Given by the composition, which knows rota, timings and words. */
export type Following = (made: TurnMade) => Followed;

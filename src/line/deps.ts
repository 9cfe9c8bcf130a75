/** What the line needs; given by whoever composes the program. */
import type { Millis } from '../basics/clock.ts';
import type { TurnDeps } from '../call/turn.ts';
import type { PeopleStore } from '../people/people-store.ts';
import type { Place } from '../people/places.ts';
import type { Practice } from '../people/practice.ts';
import type { Voice } from './twiml.ts';
import type { LineWords } from './words.ts';

/** One of those who are rung, in order. */
export interface Rung {
  readonly rung: string;
  readonly staff: string;
  readonly name: string;
  readonly telephone: string;
}

export interface LineDeps {
  readonly turn: TurnDeps;
  readonly people: PeopleStore;
  readonly practice: Practice;
  readonly place: Place;
  readonly words: LineWords;
  readonly voice: Voice;
  /** Checks where a request comes from: the provider's key, and the address that it knows the line by. */
  readonly provider: { readonly token: string; readonly publicUrl: string };
  /** The clinicians to ring, first to last; never empty unless the settings name nobody. */
  readonly ladder: (now: Millis) => readonly Rung[];
  /** Whether the desk is staffed now. */
  readonly isOpen: (now: Millis) => boolean;
  /** Whether a call that nobody listens to may end in advice on this script. */
  readonly mayAdvise: (flow: string) => boolean;
  /** A time as it is spoken, such as "Tuesday at six in the evening". */
  readonly spokenTime: (at: Millis) => string;
  /** A telephone number in the form people read. */
  readonly shownTelephone: (stored: string) => string;
  /** A defect, by where it broke and never by what was said. */
  readonly broke: (error: unknown) => void;
}

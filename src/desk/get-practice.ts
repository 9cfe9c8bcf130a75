/** GET /api/practice: name, mode, who is on call now, and the numbers that always stand on the page. */
import { ok } from '../basics/result.ts';
import type { PracticeAnswer } from './contract/practice.ts';
import type { DeskDeps } from './deps.ts';
import type { Endpoint } from './endpoint.ts';
import { onCallNow, publicNumber } from './on-call.ts';
import { openingState } from './opening-state.ts';
import { dangersOf } from './view/values.ts';
import { moment } from './show-time.ts';

export const getPractice: Endpoint = async (deps) => ok(practiceAnswer(deps));

export function practiceAnswer({ practice, place, turn }: DeskDeps): PracticeAnswer {
  const now = turn.clock.now();
  const { ladder, gaps } = onCallNow(practice, now);
  const { flow } = turn.flows.general;
  const { words } = flow;
  return {
    name: practice.name,
    mode: practice.mode,
    zone: practice.zone,
    now: moment(now, { now, zone: practice.zone }),
    opening: openingState(practice, now),
    onCall: ladder,
    gaps,
    emergency: publicNumber(place.emergency),
    crisis: publicNumber(place.crisis),
    poisons: publicNumber(place.poisons),
    dangers: dangersOf(flow).map(({ is }) => is),
    caution: words.caution,
    reachClinician: words.reachClinician,
  };
}

/**
 * In `live` a flow runs only when a surgeon and a safety officer, two people, have signed this very content and the
 * signature holds today; everything else runs on the general flow. Source: the practice's rules.
 */
import { describe, expect, it } from 'vitest';
import type { Approval } from '../../src/flow/approvals.ts';
import type { CompiledFlow } from '../../src/flow/compiled.ts';
import { allowedFlows } from '../../src/server/live-flows.ts';
import { fixedClock } from '../support/fixed-clock.ts';
import { realContent } from '../support/real-flows.ts';

const content = realContent();
const { library } = content;
const ZONE = 'Europe/London';
const TODAY = '2026-03-02';
const NOON = `${TODAY}T12:00:00Z`;
const lift = library.flowFor(['breast-lift']);

function signed(changes: Partial<Approval> = {}, flow: CompiledFlow = lift): Approval {
  return {
    procedure: flow.flow.id,
    hash: flow.hash,
    as: 'surgeon',
    by: 'Miss Ottoline Farrant',
    on: '2026-01-05',
    until: '2026-12-31',
    ...changes,
  };
}

/** Both signatures that a flow needs. */
function both(changes: Partial<Approval> = {}, flow: CompiledFlow = lift): readonly Approval[] {
  return [signed(changes, flow), signed({ as: 'safety', by: 'Dr Ines Carrow', ...changes }, flow)];
}

function runsOn(approvals: readonly Approval[], at = NOON, mode: 'live' | 'demo' = 'live'): string {
  const flows = allowedFlows(library, { mode, zone: ZONE, approvals: () => approvals }, fixedClock(at));
  return flows.flowFor(['breast-lift']).flow.id;
}

describe('in live', () => {
  it('a flow that both have signed runs', () => {
    expect(runsOn(both())).toBe('breast-lift');
  });

  it.each<[string, readonly Approval[]]>([
    ['that nobody signed', []],
    ['that the surgeon alone signed', [signed()]],
    ['that the safety officer alone signed', [signed({ as: 'safety' })]],
    ['that one person signed twice', both({ by: 'Miss Ottoline Farrant' })],
    [
      'that one person signed twice under two spellings',
      [signed(), signed({ as: 'safety', by: 'MISS  Ottoline FARRANT' })],
    ],
    ['whose signatures ended yesterday', both({ until: '2026-03-01' })],
    [
      'whose safety signature alone ended',
      [signed(), signed({ as: 'safety', by: 'Dr Ines Carrow', until: '2026-03-01' })],
    ],
    ['whose signatures begin tomorrow', both({ on: '2026-03-03' })],
    ['whose signatures were withdrawn', both({ withdrawn: '2026-02-01' })],
    ['whose surgeon alone withdrew', [signed({ withdrawn: TODAY }), ...both().slice(1)]],
    ['of other content under the same name', both({ hash: library.flowFor(['tummy-tuck']).hash })],
  ])('a flow %s is replaced by the general flow', (_which, approvals) => {
    expect(runsOn(approvals)).toBe('general');
  });

  it('a signature holds through its last day in the zone of the practice, and not a minute longer', () => {
    const approvals = both({ until: '2026-07-01' });
    expect(runsOn(approvals, '2026-07-01T22:59:00Z')).toBe('breast-lift');
    expect(runsOn(approvals, '2026-07-01T23:00:00Z')).toBe('general');
  });

  it("a surgeon's own rules and a combined operation are content of their own and need signatures of their own", () => {
    const approvals = [...both(), ...both({}, library.flowFor(['tummy-tuck']))];
    const flows = allowedFlows(
      library,
      { mode: 'live', zone: ZONE, approvals: () => approvals },
      fixedClock(NOON),
    );
    expect(flows.flowFor(['breast-lift', 'tummy-tuck']).flow.id).toBe('general');
    expect(flows.flowFor(['breast-lift'], 'farrant').flow.id).toBe('general');
    const more = [...approvals, ...both({}, library.flowFor(['breast-lift', 'tummy-tuck']))];
    const signedToo = allowedFlows(
      library,
      { mode: 'live', zone: ZONE, approvals: () => more },
      fixedClock(NOON),
    );
    expect(signedToo.flowFor(['breast-lift', 'tummy-tuck']).flow.id).toBe('breast-lift+tummy-tuck');
  });

  it('a zone that nobody knows leaves only the general flow', () => {
    const flows = allowedFlows(
      library,
      { mode: 'live', zone: 'Tern/Quay', approvals: () => both() },
      fixedClock(NOON),
    );
    expect(flows.flowFor(['breast-lift']).flow.id).toBe('general');
  });

  it('the general flow needs no signature, and never ends in advice', () => {
    const flows = allowedFlows(library, { mode: 'live', zone: ZONE, approvals: () => [] }, fixedClock(NOON));
    expect(flows.general.flow.floor).toMatchObject({ outcome: 'arrange-review', within: 'same-day' });
    for (const id of library.procedures) expect(flows.flowFor([id])).toBe(flows.general);
  });
});

describe('in demo', () => {
  it('unsigned flows run', () => {
    expect(runsOn([], NOON, 'demo')).toBe('breast-lift');
  });

  it('the content that comes with the program is demo content, and nothing in it is signed', () => {
    expect(content.approvals()).toEqual([]);
    expect(content.practice.mode).toBe('demo');
  });
});

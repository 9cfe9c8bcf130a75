/**
 * A call read again from its events alone: what was said, found, decided, told and promised, as it was then. Neither
 * today's scripts nor today's rules are asked, so that the same events always read the same.
 */
import type { StoredEvent } from '../call/call-store.ts';
import { readRecorded, type Recorded, type RecordedOf } from '../call/recorded.ts';
import { kept, written } from './kept.ts';
import { readConversation } from './read-conversation.ts';
import { readDecisions, readOutcomes, readTold } from './read-decisions.ts';
import { readFindings } from './read-findings.ts';
import { readPromises } from './read-promises.ts';
import { readReached } from './read-reached.ts';
import type { RecordHeader, RecordView, ScriptUsed } from './view.ts';

/** In order of `seq`. Throws on events that no release wrote, and on a call without a beginning. */
export function readRecord(events: readonly StoredEvent[]): RecordView {
  const recorded = events.map(readRecorded);
  const handover = lastOf(recorded, 'handover-written');
  const closed = lastOf(recorded, 'closed');
  return {
    header: headerOf(recorded),
    conversation: readConversation(recorded),
    findings: readFindings(recorded),
    outcomes: readOutcomes(recorded),
    told: readTold(recorded),
    handover:
      handover === null ? null : { ...written(handover), text: kept(handover, handover.sealed?.text) },
    decisions: readDecisions(recorded),
    promises: readPromises(recorded),
    reached: readReached(recorded),
    closed:
      closed === null
        ? null
        : {
            ...written(closed),
            understood: closed.open.understood,
            agreed: kept(closed, closed.sealed?.agreed),
          },
    erased: recorded.some(({ erased }) => erased),
  };
}

function lastOf<TType extends Recorded['type']>(
  events: readonly Recorded[],
  type: TType,
): RecordedOf<TType> | null {
  return events.findLast((event): event is RecordedOf<TType> => event.type === type) ?? null;
}

function headerOf(events: readonly Recorded[]): RecordHeader {
  const started = lastOf(events, 'call-started');
  if (started === null) throw new Error('A call without its beginning cannot be read');
  const identified = lastOf(events, 'identified');
  const { channel, direction, zone, lexicon, program } = started.open;
  return {
    channel,
    direction,
    startedAt: started.at,
    zone,
    callerNumber: kept(started, started.sealed?.callerNumber),
    scripts: scriptsOf(events),
    lexicon,
    program,
    procedures: identified?.open.procedures ?? [],
    times: identified?.open.times ?? [],
    clinic: identified?.open.clinic ?? started.open.clinic,
  };
}

/** The scripts that the call ran on: at first, after each identification, and when its own was gone. */
function scriptsOf(events: readonly Recorded[]): readonly ScriptUsed[] {
  const used = events.flatMap((event): readonly ScriptUsed[] => {
    if (event.type !== 'call-started' && event.type !== 'identified' && event.type !== 'raised') return [];
    const { flow, hash } = event.open;
    return flow === undefined || hash === undefined ? [] : [{ since: event.at, flow, hash }];
  });
  return used.filter(({ hash }, at) => hash !== used[at - 1]?.hash);
}

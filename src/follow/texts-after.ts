/** Texts to the patient: a review that was arranged, and advice that the caller wants to keep. Only where they may be sent. */
import { isAccepted } from '../call/closing.ts';
import type { TurnMade } from '../call/following.ts';
import type { NewMessage, OutboxWrite } from '../call/outbox.ts';
import { messageIds } from './message-ids.ts';

/** Nobody is texted who has not agreed to it, and nobody whose record is not known. */
export function textsAfter(made: TurnMade): readonly OutboxWrite[] {
  const { patient } = made;
  const [number] = patient?.telephones ?? [];
  if (patient === null || !patient.contact.mayText || number === undefined) return [];
  const message = reviewText(made, number) ?? adviceText(made, number);
  return message === null ? [] : [{ write: 'add', message }];
}

/** When a review is told; an urgent outcome is rung and never only texted. */
function reviewText({ before, after, stamp }: TurnMade, number: string): NewMessage | null {
  const { told, promises } = after.context;
  const isTold = told?.outcome === 'arrange-review' && before?.context.told?.within !== told.within;
  if (!isTold || promises.review === undefined) return null;
  return text(messageIds.reviewText(promises.review.id), {
    promise: promises.review.id,
    template: 'review',
    number,
    dueAt: stamp.at,
  });
}

function adviceText({ input, after, call, stamp }: TurnMade, number: string): NewMessage | null {
  if (input.kind !== 'send-advice' || isAccepted(after.context, after.assessment.outcome)) return null;
  return text(messageIds.adviceText(call), { promise: null, template: 'advice', number, dueAt: stamp.at });
}

interface Parts extends Pick<NewMessage, 'promise' | 'template' | 'dueAt'> {
  readonly number: string;
}

function text(id: NewMessage['id'], { number, ...parts }: Parts): NewMessage {
  return { id, kind: 'text', to: 'caller', sealed: { number }, ...parts };
}

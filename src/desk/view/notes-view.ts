/** The nurse's own notes of a call, read from its events. */
import { z } from 'zod';
import type { StoredEvent } from '../../call/call-store.ts';
import type { CallView } from '../contract/call-view.ts';
import { moment, type Here } from '../show-time.ts';

const sealedText = z.object({ text: z.string() });

/** A note whose key is gone is not shown here; the record says that it was erased. */
export function notesIn(notes: readonly StoredEvent[], here: Here): CallView['notes'] {
  return notes.flatMap(({ at, sealed }) => {
    const text = sealedText.safeParse(sealed);
    return text.success ? [{ at: moment(at, here), text: text.data.text }] : [];
  });
}

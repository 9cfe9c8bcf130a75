/** What the practice shows on every page, read anew every minute; the last good answer stays while nothing comes. */
import { useEffect } from 'react';
import { practiceAnswerSchema, type PracticeAnswer } from '../../../desk/contract/practice.ts';
import { get } from '../api.ts';
import { every } from '../browser.ts';
import { keepHere, keptHere } from '../kept-here.ts';
import { makeValue, useValue } from '../value.ts';

const MINUTE = 60_000;
const NAME = 'practice';

export const practice = makeValue<PracticeAnswer | null>(lastGood());

/** A desk that starts without its server still shows whom to ring. */
function lastGood(): PracticeAnswer | null {
  const parsed = practiceAnswerSchema.safeParse(keptHere(NAME));
  return parsed.success ? parsed.data : null;
}

export function usePractice(): PracticeAnswer | null {
  useEffect(() => {
    const seen = (): void => {
      if (document.visibilityState === 'visible') void refresh();
    };
    void refresh();
    document.addEventListener('visibilitychange', seen);
    const stop = every(MINUTE, () => void refresh());
    return () => {
      stop();
      document.removeEventListener('visibilitychange', seen);
    };
  }, []);
  return useValue(practice);
}

async function refresh(): Promise<void> {
  const answer = await get('/api/practice', practiceAnswerSchema);
  if (!answer.ok) return;
  keepHere(NAME, answer.value);
  practice.set(answer.value);
}

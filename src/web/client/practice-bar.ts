/** Keeps the bar on top true: who is on call now, whether the practice is open, and the caution. */
import type { PracticeAnswer } from '../../desk/contract/practice.ts';
import { WORDS } from '../words.ts';
import { get } from './api.ts';
import { every } from './browser.ts';
import { byId, el, fill, type Child } from './element.ts';

const MINUTE = 60_000;

export function keepBar(): void {
  void refresh();
  every(MINUTE, () => void refresh());
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') void refresh();
  });
}

/** When the server does not answer, what is shown stays; every act of the nurse says so itself. */
async function refresh(): Promise<void> {
  const answer = await get<PracticeAnswer>('/api/practice');
  if (!answer.ok) return;
  const practice = answer.value;
  const { open, until, because } = practice.opening;
  const hours = open && until !== null ? `${WORDS.practice.open} ${until}` : WORDS.practice.closed;
  byId('hours').textContent = because === null ? hours : `${hours} (${because})`;
  byId('emergency').textContent = practice.emergency.dial;
  byId('caution').textContent = practice.caution;
  byId('routes').textContent =
    `${route(WORDS.practice.crisis, practice.crisis)} ${route(WORDS.practice.poisons, practice.poisons)}`;
  fill(byId('on-call'), ...ladder(practice));
}

/** "In a crisis of the mind: NUMBER, choose ...". */
function route(what: string, { dial, choose }: PracticeAnswer['crisis']): string {
  return `${what}: ${dial}${choose === null ? '' : `, ${WORDS.practice.choose} ${choose}`}.`;
}

function ladder(practice: PracticeAnswer): readonly Child[] {
  const people = practice.onCall.map(({ rung, name, shown }, at) =>
    el(
      'span',
      { class: at === 0 ? 'rung first' : 'rung' },
      el('span', { class: 'what' }, WORDS.rungs[rung]),
      el('span', {}, name),
      el('strong', {}, shown),
    ),
  );
  const gaps = practice.gaps.map((rung) => WORDS.rungs[rung]).join(', ');
  return [...people, gaps !== '' && el('span', { class: 'rung warn' }, `${WORDS.practice.gaps} ${gaps}`)];
}

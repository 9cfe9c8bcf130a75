/** Light, dark, or as the machine has it; this browser remembers. */
import { keepHere, keptHere } from '../kept-here.ts';
import { makeValue, useValue } from '../value.ts';
import { WORDS } from '../../words.ts';

const THEMES = ['machine', 'light', 'dark'] as const;
type Theme = (typeof THEMES)[number];

const NAME = 'theme';
const theme = makeValue<Theme>(THEMES.find((one) => one === keptHere(NAME)) ?? 'machine');
show(theme.get());

function show(one: Theme): void {
  document.documentElement.dataset['theme'] = one;
}

export function ThemeSwitch() {
  const now = useValue(theme);
  const choose = (next: Theme): void => {
    keepHere(NAME, next === 'machine' ? null : next);
    theme.set(next);
    show(next);
  };
  const next = THEMES[(THEMES.indexOf(now) + 1) % THEMES.length] ?? 'machine';
  return (
    <button type="button" className="quiet theme" onClick={() => choose(next)}>
      {WORDS.frame.theme}: {WORDS.frame.themes[now]}
    </button>
  );
}

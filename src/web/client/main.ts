/** Starts the page that the shell names. */
import { WORDS } from '../words.ts';
import { showCall } from './call-page.ts';
import { byId, el, fill } from './element.ts';
import { showHome } from './home.ts';
import { listenForKeys } from './keys.ts';
import { keepBar } from './practice-bar.ts';
import { showRecord } from './record.ts';

const [, , id = ''] = location.pathname.split('/');

const PAGES: Readonly<Record<string, () => void>> = {
  home: showHome,
  call: () => showCall(decodeURIComponent(id)),
  record: () => showRecord(decodeURIComponent(id)),
};

function showNothing(): void {
  fill(
    byId('main'),
    el('p', { class: 'notice' }, WORDS.record.nothing),
    el('a', { href: '/' }, WORDS.home.title),
  );
}

keepBar();
listenForKeys();
(PAGES[document.body.dataset['page'] ?? ''] ?? showNothing)();

/** Starts the desk's page. */
import { createRoot } from 'react-dom/client';
import { Desk } from './frame/desk.tsx';
import { listenForKeys } from './keys.ts';
import { listenLive } from './live.ts';

listenForKeys();
listenLive();
const place = document.getElementById('desk');
if (place !== null) createRoot(place).render(<Desk />);

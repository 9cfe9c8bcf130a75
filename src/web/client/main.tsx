/** Starts the desk's page. */
import { createRoot } from 'react-dom/client';
import { Desk } from './frame/desk.tsx';
import { listenForKeys } from './keys.ts';

listenForKeys();
const place = document.getElementById('desk');
if (place !== null) createRoot(place).render(<Desk />);

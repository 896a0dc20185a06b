/** Starts the page. */

import './look/look.css';
import { answered, bridge } from './first-questions.ts';

// What follows takes its time to start, and the host answers meanwhile.

import { createRoot } from 'react-dom/client';
import { Start } from './app/start.tsx';

const place = document.getElementById('app');
void answered.then(() => {
  if (place !== null) createRoot(place).render(<Start bridge={bridge} />);
});

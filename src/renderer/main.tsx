/** Starts the page. */

import './look/look.css';
import { answered, answers, bridge } from './first-answers.ts';

// What follows takes its time to start, and the host answers meanwhile.

import { createRoot } from 'react-dom/client';
import { Start } from './app/start.tsx';
import { AnswersProvider } from './data/index.ts';

const place = document.getElementById('app');
void answered.then(() => {
  if (place === null) return;
  createRoot(place).render(
    <AnswersProvider bridge={bridge} answers={answers}>
      <Start bridge={bridge} />
    </AnswersProvider>,
  );
});

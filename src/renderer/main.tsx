/** Starts the page. */

import './look/look.css';
import { createRoot } from 'react-dom/client';
import { z } from 'zod';
import { App } from './app/app.tsx';
import { browserBridge } from './bridge/index.ts';

// The page's policy forbids code made of text, which the schema library would try for speed.
z.config({ jitless: true });

const place = document.getElementById('app');
if (place !== null) createRoot(place).render(<App bridge={browserBridge()} />);

/** Starts the page. */

import './look/look.css';
import { createRoot } from 'react-dom/client';
import { App } from './app/app.tsx';
import { connectBridge } from './bridge/index.ts';

const place = document.getElementById('app');
if (place !== null) createRoot(place).render(<App bridge={connectBridge()} />);

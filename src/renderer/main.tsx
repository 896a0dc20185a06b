/** Starts the page. */

import './look/look.css';
import { createRoot } from 'react-dom/client';
import { Start } from './app/start.tsx';
import { connectBridge } from './bridge/index.ts';

const place = document.getElementById('app');
if (place !== null) createRoot(place).render(<Start bridge={connectBridge()} />);

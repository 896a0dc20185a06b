#!/usr/bin/env node
/** `npm run --silent chart -- FILE.chart …`: prints a chart. */

import { printChart } from './print-chart.ts';

printChart(process.argv.slice(2));

/** Settings and keyboards that come in: there is one of each, and the one here stays. */

import type { DatabaseSync } from 'node:sqlite';
import type { Device } from '../../../../shared/bridge/index.ts';
import type { Contents, KeptSetting } from '../contents.ts';
import type { Tally } from './tally.ts';

export function mergeSettings(
  database: DatabaseSync,
  own: Contents,
  incoming: readonly KeptSetting[],
  { added, alreadyHere, told }: Tally,
): void {
  const here = new Map(own.settings().map(({ name, value }) => [name, JSON.stringify(value)]));
  const insert = database.prepare('INSERT INTO settings (name, value) VALUES (?, ?)');
  for (const { name, value } of incoming) {
    const json = JSON.stringify(value);
    const known = here.get(name);
    if (known === undefined) {
      insert.run(name, json);
      here.set(name, json);
      added.settings++;
    } else {
      alreadyHere.settings++;
      if (known !== json) told.push({ kind: 'setting', name });
    }
  }
}

export function mergeDevices(
  database: DatabaseSync,
  own: Contents,
  incoming: readonly Device[],
  { added, alreadyHere, told }: Tally,
): void {
  const key = ({ deviceName, outputName }: Device): string =>
    JSON.stringify([deviceName, outputName]);
  const here = new Map(own.devices().map((device) => [key(device), JSON.stringify(device)]));
  const insert = database.prepare(
    'INSERT INTO devices (device_name, output_name, data) VALUES (?, ?, ?)',
  );
  for (const device of incoming) {
    const json = JSON.stringify(device);
    const known = here.get(key(device));
    if (known === undefined) {
      insert.run(device.deviceName, device.outputName, json);
      here.set(key(device), json);
      added.devices++;
    } else {
      alreadyHere.devices++;
      if (known !== json) {
        told.push({ kind: 'device', name: device.deviceName });
      }
    }
  }
}

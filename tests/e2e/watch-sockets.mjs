// Loaded before the host: writes every connection it begins, and every name it asks for, as a line of a file.
import dgram from 'node:dgram';
import dns from 'node:dns';
import { appendFileSync } from 'node:fs';
import net from 'node:net';

const file = process.env['WATCHED_SOCKETS'] ?? '';

function tell(what, where) {
  if (file !== '') appendFileSync(file, `${what} ${where}\n`);
}

const connect = net.Socket.prototype.connect;
net.Socket.prototype.connect = function watched(...values) {
  const [first, second] = values.flat();
  if (typeof first === 'object' && first !== null) tell('connect', first.path ?? first.host);
  else tell('connect', typeof second === 'string' ? second : first);
  return connect.apply(this, values);
};
for (const home of [dns, dns.promises]) {
  for (const name of ['lookup', 'resolve', 'resolve4', 'resolve6']) {
    const ask = home[name];
    home[name] = function watched(...values) {
      tell(name, values[0]);
      return ask.apply(this, values);
    };
  }
}
const createSocket = dgram.createSocket;
dgram.createSocket = (...values) => {
  tell('datagram', JSON.stringify(values[0]));
  return createSocket(...values);
};

/** A client that sends what it is told, byte by byte, and says what came back until the connection ended. */

import { connect, type Socket } from 'node:net';

export interface RawAnswer {
  readonly heard: string;
  /** Whether the host ended the connection, rather than this client its patience. */
  readonly isHungUp: boolean;
}

/** Sends text or bytes and waits until the host hangs up, or so many ms. */
export function sendRaw(
  port: number,
  text: string | Buffer,
  patienceMs = 5000,
): Promise<RawAnswer> {
  return new Promise((resolve) => {
    let heard = '';
    const socket = connect(port, '127.0.0.1', () => socket.write(text));
    const timer = setTimeout(() => end(false), patienceMs);
    function end(isHungUp: boolean): void {
      clearTimeout(timer);
      socket.destroy();
      resolve({ heard, isHungUp });
    }
    socket.on('data', (data) => {
      heard += data.toString('latin1');
    });
    socket.on('error', () => end(true));
    socket.on('close', () => end(true));
  });
}

/** A connection that is open and stays so until the host ends it. */
export function openConnection(port: number, text = ''): Promise<Socket> {
  return new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1', () => {
      if (text !== '') socket.write(text);
      resolve(socket);
    });
    socket.on('error', () => {});
  });
}

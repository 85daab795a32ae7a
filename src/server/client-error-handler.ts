import type { Socket } from 'node:net';
import { newId } from '../http/ids.js';
import { Problem } from '../problems.js';

/** Answers what is no HTTP request, or none that ends: there is only a socket to write to, and it is closed after that. */
export function answerClientError({ code }: { code?: string }, socket: Socket): void {
  if (code === 'ECONNRESET' || !socket.writable) return void socket.destroy();
  const problem =
    code === 'HPE_HEADER_OVERFLOW'
      ? new Problem('header-too-large', 'Send a shorter address, and fewer or shorter headers and cookies.')
      : new Problem('malformed', 'The request was incomplete or too slow. Please send it again.');
  const body = JSON.stringify({ ...problem.toJSON(), requestId: newId() });
  const head = [
    `HTTP/1.1 ${problem.status} Refused`,
    'Content-Type: application/problem+json',
    `Content-Length: ${Buffer.byteLength(body)}`,
    'Connection: close',
  ];
  socket.end(`${head.join('\r\n')}\r\n\r\n${body}`);
}

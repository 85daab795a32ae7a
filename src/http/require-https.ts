import type { FastifyRequest } from 'fastify';
import { Problem } from '../problems.js';
import { isLoopback } from './own-address.js';

/**
 * A password sent over plain HTTP, and the cookie that is got for it, can be read by anybody on the network. What was opened as
 * localhost does not leave the machine, also where a container's port stands there. It is told by the address that was opened, not by the
 * peer's: behind a published port everybody comes from the same one.
 * @throws Problem readable-on-the-way
 */
export function requireHttps(request: FastifyRequest): void {
  if (request.protocol === 'https' || isLoopback(request.host) || request.server.plainHttp) return;
  throw new Problem(
    'readable-on-the-way',
    'Open Wareboard by https://: put a proxy with HTTPS in front of it, or set TLS_CERT and TLS_KEY. Change the password too, because it was sent unencrypted.',
  );
}

import type { FastifyRequest } from 'fastify';

const LOOPBACK = /^(localhost|127\.\d+\.\d+\.\d+|\[::1\])(:\d+)?$/i;

/** Whether what was opened is this machine itself, from which nothing leaves; `host` may end with a port. */
export const isLoopback = (host: string): boolean => LOOPBACK.test(host);

/** How people reach this program: the address that it was given, or the one that was opened to send this. No slash at the end. */
export const ownAddress = (request: FastifyRequest): string =>
  request.server.baseUrl ?? `${request.protocol}://${request.host}`;

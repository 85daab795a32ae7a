import type { FastifyReply, FastifyRequest } from 'fastify';

// Over HTTPS the cookie is bound to this host and never sent in the clear. On loopback, where plain HTTP serves, browsers refuse
// to keep a __Host- cookie, so there it bears another name.
// A browser sends a cookie to every port of a host, so the sample studio's has a name of its own.
const name = (request: FastifyRequest, ofSample = request.server.sampleOf !== null) =>
  `${request.protocol === 'https' ? '__Host-' : ''}wareboard${ofSample ? '-sample' : ''}`;

export function readSession(request: FastifyRequest): string | undefined {
  return request.cookies[name(request)];
}

export function keepSession(request: FastifyRequest, reply: FastifyReply, token: string, maxAgeSeconds: number): void {
  reply.setCookie(name(request), token, { ...attributes(request), maxAge: maxAgeSeconds });
}

/** Lets whoever asks into the sample studio, which is on the same host. */
export function keepSampleSession(
  request: FastifyRequest,
  reply: FastifyReply,
  token: string,
  maxAgeSeconds: number,
): void {
  reply.setCookie(name(request, true), token, { ...attributes(request), maxAge: maxAgeSeconds });
}

export function dropSession(request: FastifyRequest, reply: FastifyReply): void {
  reply.clearCookie(name(request), attributes(request));
}

function attributes(request: FastifyRequest) {
  return { path: '/', httpOnly: true, sameSite: 'strict' as const, secure: request.protocol === 'https' };
}

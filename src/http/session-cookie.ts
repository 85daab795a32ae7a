import type { FastifyReply, FastifyRequest } from 'fastify';

// Over HTTPS the cookie is bound to this host and never sent in the clear. On loopback, where plain HTTP serves, browsers refuse
// to keep a __Host- cookie, so there it bears another name.
const name = (request: FastifyRequest) => (request.protocol === 'https' ? '__Host-wareboard' : 'wareboard');

export function readSession(request: FastifyRequest): string | undefined {
  return request.cookies[name(request)];
}

export function keepSession(request: FastifyRequest, reply: FastifyReply, token: string, maxAgeSeconds: number): void {
  reply.setCookie(name(request), token, { ...attributes(request), maxAge: maxAgeSeconds });
}

export function dropSession(request: FastifyRequest, reply: FastifyReply): void {
  reply.clearCookie(name(request), attributes(request));
}

function attributes(request: FastifyRequest) {
  return { path: '/', httpOnly: true, sameSite: 'strict' as const, secure: request.protocol === 'https' };
}

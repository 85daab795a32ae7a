import type { FastifyInstance, FastifyReply, FastifyRequest, RouteOptions } from 'fastify';
import { type Right, rightsOf } from '../http/rights.js';
import { readSession } from '../http/session-cookie.js';
import { Problem } from '../problems.js';
import { findSession } from '../studio/staff/sign-in.js';
import { findToken } from '../studio/staff/tokens.js';
import { wwwAuthenticate } from './www-authenticate.js';

/** Methods that change nothing (RFC 9110 s.9.2.1). */
export const isSafe = (method: string): boolean => ['GET', 'HEAD', 'OPTIONS'].includes(method);

/** Nothing is shown or changed without a right to it: with a route that declares none, the server does not start. */
export function guardRoutes(app: FastifyInstance): void {
  const routes: RouteOptions[] = [];
  app.addHook('onRoute', (route) => {
    routes.push(route);
    // on the route itself, after its rate limit: what is refused counts too, or a right could be guessed at without end
    route.onRequest = [...[route.onRequest ?? []].flat(), guard];
  });
  app.addHook('onReady', async () => {
    const open = routes.find((route) => !route.config?.right); // plugins of others get theirs in a hook after ours
    if (open) throw new Error(`${open.method} ${open.url} declares no right.`);
  });
}

async function guard(request: FastifyRequest, reply: FastifyReply): Promise<void> {
  const right = request.routeOptions.config.right;
  if (!right) return; // the server does not start with such a route
  // No page of another site can send a token, and with one no cookie is read.
  const token = right === 'public' ? undefined : bearerOf(request);
  if (token === undefined && !isSafe(request.method)) refuseCrossSite(request);
  if (right === 'public') return;
  request.caller = token === undefined ? await callerOf(request) : await scriptOf(request, reply, token);
  if (!request.caller) throw new Problem('signed-out', 'Please sign in first.');
  if (right !== 'signed-in' && !request.caller.rights.has(right)) refuseRight(request, reply, right);
}

/** The token of `Authorization: Bearer ...` (RFC 6750 s.2.1). Other schemes may be a proxy's own, and are passed over. */
function bearerOf({ headers: { authorization } }: FastifyRequest): string | undefined {
  return authorization?.match(/^bearer(?: +(.*))?$/i)?.map((part) => part ?? '')[1];
}

async function scriptOf(request: FastifyRequest, reply: FastifyReply, token: string) {
  const script = await findToken(request.server.db, request.server.now(), token);
  if (script) return script;
  reply.header('www-authenticate', wwwAuthenticate('error="invalid_token"'));
  const detail = 'It is mistyped, has expired or was revoked. An owner can make another on the page Studio.';
  throw new Problem('wrong-token', detail);
}

function refuseRight({ caller }: FastifyRequest, reply: FastifyReply, right: Right): never {
  if (caller?.tokenId) {
    reply.header('www-authenticate', wwwAuthenticate('error="insufficient_scope"', `scope="${right}"`));
    throw new Problem('not-allowed', `This needs the right ${right}, which the token was not given.`);
  }
  throw new Problem('not-allowed', `This needs the right ${right}. Ask the owner of the studio.`);
}

async function callerOf(request: FastifyRequest) {
  const token = readSession(request);
  if (!token) return null;
  const member = await findSession(request.server.db, request.server.now(), token);
  if (!member) return null;
  const { id, ...rest } = member;
  return { staffMemberId: id, ...rest, tokenId: undefined, rights: new Set(rightsOf(rest.role)) };
}

/**
 * A page of another site must not act with the cookie of somebody signed in here. Browsers say where a request comes from; where
 * they say nothing at all (an old one, or a script) it is refused, since it can't be told.
 */
function refuseCrossSite(request: FastifyRequest): void {
  const site = request.headers['sec-fetch-site'];
  if (site === 'same-origin' || site === 'none') return;
  const { origin } = request.headers;
  if (site === undefined && origin !== undefined && origin === `${request.protocol}://${request.host}`) return;
  throw new Problem(
    'cross-site',
    'Send it from the desk itself, or with an Origin header that names this server. A script can send "sec-fetch-site: none".',
  );
}

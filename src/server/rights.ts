import type { FastifyInstance, FastifyRequest, RouteOptions } from 'fastify';
import { hasRight } from '../http/rights.js';
import { readSession } from '../http/session-cookie.js';
import { Problem } from '../problems.js';
import { whoIs } from '../studio/staff/sign-in.js';

/** Methods that change nothing (RFC 9110 s.9.2.1). */
export const isSafe = (method: string): boolean => ['GET', 'HEAD', 'OPTIONS'].includes(method);

/** Nothing is shown or changed without a right to it: with a route that declares none, the server does not start. */
export function guardRoutes(app: FastifyInstance): void {
  const routes: RouteOptions[] = [];
  app.addHook('onRoute', (route) => void routes.push(route));
  app.addHook('onReady', async () => {
    const open = routes.find((route) => !route.config?.right); // plugins of others get theirs in a hook after ours
    if (open) throw new Error(`${open.method} ${open.url} declares no right.`);
  });
  app.addHook('onRequest', async (request) => {
    const right = request.routeOptions.config.right;
    if (!right) return; // an address that does not exist
    if (!isSafe(request.method)) refuseCrossSite(request);
    if (right === 'public') return;
    const caller = await callerOf(request);
    if (!caller) throw new Problem('signed-out', 'Sign in first: POST /api/sign-in, or open the desk.');
    request.caller = caller;
    if (right !== 'signed-in' && !hasRight(caller.role, right))
      throw new Problem('not-allowed', `This needs the right ${right}. Ask the owner of the studio.`);
  });
}

async function callerOf(request: FastifyRequest) {
  const token = readSession(request);
  if (!token) return null;
  const member = await whoIs(request.server.db, request.server.now(), token);
  if (!member) return null;
  const { id, ...rest } = member;
  return { staffMemberId: id, ...rest };
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

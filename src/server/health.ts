import type { FastifyPluginAsync } from 'fastify';
import { logSafeError } from '../http/log-safe-error.js';
import { Problem } from '../problems.js';

/** /health: the process answers. /ready: it reaches its database as well, so that requests may be sent to it. */
export const healthRoutes: FastifyPluginAsync = async (app) => {
  const options = { config: { right: 'public' as const, rateLimit: false }, schema: { hide: true } };
  app.get('/health', options, () => ({ status: 'up' }));
  app.get('/ready', options, async (request) => {
    try {
      await app.db.requestKey.findFirst({ select: { key: true } });
    } catch (error) {
      request.log.error({ err: logSafeError(error) }, 'the database is away');
      throw new Problem('database-away', 'Try again in a moment.');
    }
    return { status: 'ready' };
  });
};

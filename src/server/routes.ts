import type { FastifyPluginAsync } from 'fastify';
import { NOUNS } from '../studio/nouns.js';

/** What the studio's nouns answer. */
export const studioRoutes: FastifyPluginAsync = async (app) => {
  for (const { routes } of NOUNS) for (const each of routes) await app.register(each);
};

import type { FastifyPluginAsync } from 'fastify';
import { describeProblem, Problem } from '../problems.js';

/** The address that each problem gives as its type leads somewhere: to what it is called. */
export const problemPages: FastifyPluginAsync = async (app) => {
  app.get<{ Params: { type: string } }>(
    '/problems/:type',
    { config: { right: 'public' }, schema: { hide: true } },
    ({ params: { type } }) => {
      const found = describeProblem(type);
      if (!found) throw new Problem('not-found', 'No problem has this name.');
      return { type: `/problems/${type}`, ...found };
    },
  );
};

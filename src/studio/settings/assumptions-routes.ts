import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { confirmAssumption, listAssumptions, noteAssumption } from './assumptions.js';
import { Assumption, NewAssumption } from './assumptions-contract.js';

const tags = ['settings'];
const Assumptions = z.object({ items: z.array(Assumption) });

/** Usual figures that a new studio works with until it knows its own. */
export const assumptionsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/assumptions',
    {
      config: { right: 'money:read' },
      schema: { tags, summary: 'Figures that are still assumed', response: { 200: Assumptions } },
    },
    (request) => read(request, async (tx) => ({ items: await listAssumptions(tx) })),
  );
  app.post(
    '/assumptions',
    {
      config: { right: 'settings:write' },
      schema: {
        tags,
        summary: 'Note that figures are assumed',
        description: 'The note ends when what it is about is changed, or confirmed as it is.',
        body: NewAssumption,
        response: { 201: Assumption, ...refuses('not-found') },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => noteAssumption(tx, now, request.body)),
  );
  app.post(
    '/assumptions/:subjectId/confirm',
    {
      config: { right: 'settings:write' },
      schema: {
        tags,
        summary: 'Confirm that assumed figures are right',
        params: z.object({ subjectId: Id }),
        response: { 200: Assumptions },
      },
    },
    (request, reply) =>
      write(request, reply, 200, async (tx) => ({ items: await confirmAssumption(tx, request.params.subjectId) })),
  );
};

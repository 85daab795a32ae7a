import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../http/member.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { Distinction, Doubles, NewDistinction } from './contract.js';
import { distinguish, listDoubles } from './doubles.js';
import { LOOKED_AT_MAX } from './queries.js';

const tags = ['people'];
const params = z.object({ personId: Id });

/** Entries that may be of one person, and two who are not. */
export const doubleRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/doubles',
    {
      config: { right: 'people:write' },
      schema: {
        tags,
        summary: 'Entries that may be of one person',
        querystring: z.strictObject({
          personId: Id.optional().meta({
            description: `Those that may be one with this person; without it, those among the latest ${LOOKED_AT_MAX} entries, each compared with all.`,
          }),
        }),
        response: { 200: Doubles },
      },
    },
    (request) => read(request, (tx) => listDoubles(tx, request.query.personId)),
  );
  app.post(
    '/people/:personId/distinctions',
    {
      config: { right: 'people:write' },
      schema: {
        ...{ tags, params },
        summary: 'Note that this person and another are two: they are not suggested as one again',
        body: NewDistinction,
        response: { 201: Distinction, ...refuses('not-found', 'merged') },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        distinguish(tx, now, memberOf(request), request.params.personId, request.body.otherId),
      ),
  );
};

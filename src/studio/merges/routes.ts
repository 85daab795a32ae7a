import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../http/member.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { preview, previewOf } from '../notices/preview.js';
import { Merge, MergeOutcome, NewMerge } from './contract.js';
import { listMerges, mergePeople } from './service.js';

const tags = ['people'];
const params = z.object({ personId: Id });

/** Two entries of one person become one. */
export const mergeRoutes: FastifyPluginAsyncZod = async (app) => {
  const merging = { tags, params, body: NewMerge };
  const refused = refuses('not-found', 'merged', 'both-there', 'still-needed');
  app.post(
    '/people/:personId/merges/preview',
    {
      config: { right: 'people:write', keyless: true },
      schema: {
        ...merging,
        summary: 'What merging another entry into this person would move and keep; changes nothing',
        response: { 200: previewOf(MergeOutcome), ...refused },
      },
    },
    (request) =>
      preview(request, (tx, now) => mergePeople(tx, now, memberOf(request), request.params.personId, request.body)),
  );
  app.post(
    '/people/:personId/merges',
    {
      config: { right: 'people:write' },
      schema: {
        ...merging,
        summary: 'Merge another entry of the same person into this one; it can’t be undone',
        response: { 201: MergeOutcome, ...refused },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        mergePeople(tx, now, memberOf(request), request.params.personId, request.body),
      ),
  );
  app.get(
    '/people/:personId/merges',
    {
      config: { right: 'people:write' },
      schema: {
        ...{ tags, params },
        summary: 'The entries that became part of this person’s, with what was known of each',
        response: { 200: z.object({ items: z.array(Merge) }), ...refuses('not-found') },
      },
    },
    (request) => read(request, async (tx) => ({ items: await listMerges(tx, request.params.personId) })),
  );
};

import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { PageQuery, pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { getBatch, listBatches, makeBatch } from './batches.js';
import { MixBatch, NewBatch, Undoing } from './contract.js';
import { undoBatch } from './undo-batch.js';

const tags = ['mixes'];
const ofMix = z.object({ mixId: Id });
const params = z.object({ batchId: Id });
const writes = refuses('not-found', 'set-up-missing');

export const mixBatchRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/mixes/:mixId/batches',
    {
      config: { right: 'stock:write' },
      schema: {
        tags,
        summary: 'Mix a batch: its materials leave the shelf, and it becomes a lot at what they cost',
        description:
          'What recorded stock lacks of a material is taken as found, and that material needs a count. Wear a fit-tested mask, clean up wet.',
        params: ofMix,
        body: NewBatch,
        response: { 201: MixBatch, ...writes },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => makeBatch(tx, now, request.params.mixId, request.body)),
  );
  app.get(
    '/mixes/:mixId/batches',
    {
      config: { right: 'stock:read' },
      schema: {
        tags,
        summary: 'The batches of a mix, oldest first, each as it was weighed out',
        params: ofMix,
        querystring: PageQuery,
        response: { 200: pageOf(MixBatch), ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => listBatches(tx, request.params.mixId, request.query)),
  );
  app.get(
    '/mix-batches/:batchId',
    {
      config: { right: 'stock:read' },
      schema: {
        tags,
        summary: 'A batch of a mix, and what is left of it',
        params,
        response: { 200: MixBatch, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => getBatch(tx, request.params.batchId)),
  );
  app.post(
    '/mix-batches/:batchId/undoing',
    {
      config: { right: 'stock:write' },
      schema: {
        tags,
        summary: 'Undo a batch that was entered by mistake, as long as none of it is used',
        params,
        body: Undoing,
        response: { 201: MixBatch, ...writes, ...refuses('already-cancelled', 'stock-impossible') },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => undoBatch(tx, now, request.params.batchId, request.body.note)),
  );
};

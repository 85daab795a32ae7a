import type { FastifyReply } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { renderBatchSheet } from '../../documents/batch-sheet.js';
import { renderBucketLabels } from '../../documents/bucket-labels.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { refuses } from '../../problems.js';
import { MakeGrams } from './contract.js';
import { batchSheet, bucketLabels } from './documents.js';

const tags = ['mixes'];
const pdf = (description: string) => ({
  200: { description, content: { 'application/pdf': { schema: z.any() } } },
  ...refuses('not-found', 'set-up-missing'),
});

/** Papers for the bench; nothing on them is money, and nothing is kept. */
export const mixPaperRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/mixes/:mixId/batch-sheet.pdf',
    {
      config: { right: 'stock:read' },
      schema: {
        tags,
        summary: 'A sheet to weigh a batch out by: weights to tick off, water, cautions',
        params: z.object({ mixId: Id }),
        querystring: z.strictObject({
          makeGrams: z.coerce.number({ error: 'must say how many grams to make, such as 2000' }).pipe(MakeGrams),
        }),
        response: pdf('The sheet'),
      },
    },
    async (request, reply) => {
      const content = await read(request, (tx, now) =>
        batchSheet(tx, now, request.params.mixId, request.query.makeGrams),
      );
      return send(reply, 'batch-sheet.pdf', await renderBatchSheet(content));
    },
  );
  app.get(
    '/mix-batches/:batchId/labels.pdf',
    {
      config: { right: 'stock:read' },
      schema: {
        tags,
        summary: 'Labels for the buckets of a batch',
        params: z.object({ batchId: Id }),
        querystring: z.strictObject({ copies: z.coerce.number().int().min(1).max(24).default(1) }),
        response: pdf('The labels'),
      },
    },
    async (request, reply) => {
      const content = await read(request, (tx) => bucketLabels(tx, request.params.batchId, request.query.copies));
      return send(reply, `batch-${content.number}-labels.pdf`, await renderBucketLabels(content));
    },
  );
};

function send(reply: FastifyReply, fileName: string, bytes: Buffer) {
  reply.header('content-disposition', `inline; filename="${fileName}"`).type('application/pdf');
  return reply.serializer((pdf) => pdf as never).send(bytes);
}

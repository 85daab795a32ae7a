import type { FastifyReply } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { refuses } from '../../problems.js';
import { getLogoOf } from '../settings/logo.js';
import { MakeGrams } from './contract.js';
import { batchSheet, bucketLabels } from './documents.js';

const tags = ['mixes'];
const pdf = (description: string) => ({
  200: { description, content: { 'application/pdf': { schema: z.any() } } },
  ...refuses('not-found', 'set-up-missing', 'papers-busy'),
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
      const { content, logo } = await read(request, async (tx, now) =>
        withLogo(tx, await batchSheet(tx, now, request.params.mixId, request.query.makeGrams)),
      );
      return send(reply, 'batch-sheet.pdf', await app.renderer.render('batchSheet', content, logo));
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
      const { content, logo } = await read(request, async (tx) =>
        withLogo(tx, await bucketLabels(tx, request.params.batchId, request.query.copies)),
      );
      return send(
        reply,
        `batch-${content.number}-labels.pdf`,
        await app.renderer.render('bucketLabels', content, logo),
      );
    },
  );
};

const withLogo = async <T>(tx: Transaction, content: T) => ({ content, logo: await getLogoOf(tx, content) });

function send(reply: FastifyReply, fileName: string, bytes: Uint8Array) {
  reply.header('content-disposition', `inline; filename="${fileName}"`).type('application/pdf');
  return reply.serializer((pdf) => pdf as never).send(Buffer.from(bytes));
}

import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { preview, previewOf } from '../notices/preview.js';
import * as contract from './contract.js';
import * as service from './service.js';

/** Telling makers that their ware is ready, and whom that would tell. */
export const collectionRoutes: FastifyPluginAsyncZod = async (app) => {
  const announced = z.object({ items: z.array(contract.Announced) });
  const announcing = { tags: ['notices'], body: contract.NewCollectionNotices };
  const announce = (wanted: contract.NewCollectionNotices) => async (tx: Transaction, now: Date) => ({
    items: await service.announceReady(tx, now, wanted),
  });
  app.post(
    '/collection-notices',
    {
      config: { right: 'money:write' },
      schema: {
        ...announcing,
        summary: 'Tell makers which of their pieces are ready, until when to collect, and what they owe',
        response: { 200: announced, ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request, reply) => write(request, reply, 200, announce(request.body)),
  );
  app.post(
    '/collection-notices/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...announcing,
        summary: 'Whom collection notices would go to, and each of them as it would be sent; changes nothing',
        response: { 200: previewOf(announced), ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request) => preview(request, announce(request.body)),
  );
};

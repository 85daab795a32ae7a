import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import * as contract from './contract.js';
import * as service from './service.js';

const params = z.object({ firingId: Id });

/** What a firing cost and who pays for it: the owner's. */
export const moneyRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/firings/:firingId/shares',
    {
      config: { right: 'money:read' },
      schema: {
        tags: ['firings'],
        summary: 'What a settled firing cost, and who pays which part',
        params,
        response: { 200: contract.FiringCost, ...refuses('not-found', 'wrong-state') },
      },
    },
    (request) => read(request, (tx) => service.getFiringCost(tx, request.params.firingId)),
  );
  app.get(
    '/unused-room',
    {
      config: { right: 'money:read' },
      schema: {
        tags: ['firings'],
        summary: 'What each choice of who pays for empty kiln room would have meant over the latest firings',
        response: { 200: contract.UnusedRoom, ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, (tx) => service.getUnusedRoom(tx)),
  );
  app.post(
    '/firings/:firingId/billing',
    {
      config: { right: 'money:write' },
      schema: {
        tags: ['firings'],
        summary: 'Charge each maker who pays for firing: their shares, with VAT where the studio is registered',
        description: 'A piece that broke in this firing is not charged: the studio pays its share.',
        params,
        response: {
          200: z.object({ items: z.array(contract.FiringBill) }),
          ...refuses('not-found', 'wrong-state'),
        },
      },
    },
    (request, reply) =>
      write(request, reply, 200, async (tx, now) => ({
        items: await service.billFiring(tx, now, request.params.firingId),
      })),
  );
};

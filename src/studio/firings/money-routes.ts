import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import * as contract from './contract.js';
import * as service from './service.js';

const params = z.object({ firingId: Id });

/** What a firing cost, who pays for it, and the notices that say what is owed: the owner's. */
export const moneyRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/firings/:firingId/settlement',
    {
      config: { right: 'money:write' },
      schema: {
        tags: ['firings'],
        summary: 'Work out what a firing cost by its meter, and who pays which part',
        params,
        body: contract.Settlement,
        response: {
          200: contract.FiringCost,
          ...refuses('not-found', 'reading-missing', 'tariff-missing'),
        },
      },
    },
    (request, reply) =>
      write(request, reply, 200, (tx) => service.settleFiring(tx, request.params.firingId, request.body)),
  );
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
  app.post(
    '/collection-notices',
    {
      config: { right: 'money:write' },
      schema: {
        tags: ['notices'],
        summary: 'Tell makers which of their pieces are ready, until when to collect, and what they owe',
        body: contract.NewCollectionNotices,
        response: {
          200: z.object({ items: z.array(contract.Announced) }),
          ...refuses('not-found', 'set-up-missing'),
        },
      },
    },
    (request, reply) =>
      write(request, reply, 200, async (tx, now) => ({ items: await service.announceReady(tx, now, request.body) })),
  );
};

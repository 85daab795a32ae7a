import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { preview, previewOf } from '../notices/preview.js';
import * as contract from './contract.js';
import * as service from './service.js';

const params = z.object({ firingId: Id });

async function settle(tx: Transaction, now: Date, id: string, { bill, ...wanted }: contract.Settlement) {
  const cost = await service.settleFiring(tx, id, wanted);
  if (!bill) return cost;
  await service.billFiring(tx, now, id);
  return service.getFiringCost(tx, id);
}

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

/** Working a firing out, and what that would come to. */
export const settlementRoutes: FastifyPluginAsyncZod = async (app) => {
  const settling = { tags: ['firings'], params, body: contract.Settlement };
  const unsettled = refuses('not-found', 'reading-missing', 'tariff-missing');
  app.post(
    '/firings/:firingId/settlement',
    {
      config: { right: 'money:write' },
      schema: {
        ...settling,
        summary: 'Work out what a firing cost by its meter, and who pays which part',
        response: { 200: contract.FiringCost, ...unsettled },
      },
    },
    (request, reply) => write(request, reply, 200, (tx, now) => settle(tx, now, request.params.firingId, request.body)),
  );
  app.post(
    '/firings/:firingId/settlement/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...settling,
        summary: 'What a firing would come to, and what each maker would be charged; changes nothing',
        response: { 200: previewOf(contract.FiringCost), ...unsettled },
      },
    },
    (request) => preview(request, (tx, now) => settle(tx, now, request.params.firingId, request.body)),
  );
};

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

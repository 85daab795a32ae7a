import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
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

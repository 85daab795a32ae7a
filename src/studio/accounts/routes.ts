import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../http/read.js';
import { Id, LocalDate } from '../../http/types.js';
import { refuses } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { getStudio } from '../settings/service.js';
import { Balances, Debtor, Receipt } from './contract.js';
import { getBalances } from './queries.js';
import { listDebtors, listReceipts } from './reports.js';

const tags = ['accounts'];

export const accountsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/debtors',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'Who owes what, with firing fees apart',
        querystring: z.strictObject({
          on: LocalDate.optional().meta({ description: 'What is due by this day; today.' }),
          personId: Id.optional(),
        }),
        response: { 200: z.object({ items: z.array(Debtor) }), ...refuses('set-up-missing') },
      },
    },
    (request) =>
      read(request, async (tx, now) => {
        const { timeZone } = await getStudio(tx);
        const { on = localDay(now, timeZone), personId } = request.query;
        return { items: await listDebtors(tx, on, personId) };
      }),
  );
  app.get(
    '/receipts',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'Receipts in the order of their numbers, 200 at a time',
        querystring: z.strictObject({ afterNumber: z.coerce.number().int().min(0).default(0) }),
        response: { 200: z.object({ items: z.array(Receipt) }) },
      },
    },
    (request) => read(request, async (tx) => ({ items: await listReceipts(tx, request.query.afterNumber) })),
  );
  app.get(
    '/account-balances',
    {
      config: { right: 'money:read' },
      schema: { tags, summary: 'The balance of each account; debits are above zero', response: { 200: Balances } },
    },
    (request) => read(request, async (tx) => ({ items: await getBalances(tx) })),
  );
};

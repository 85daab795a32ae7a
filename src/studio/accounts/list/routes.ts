import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { listOf } from '../../../http/paging.js';
import { read } from '../../../http/read.js';
import { refuses } from '../../../problems.js';
import * as contract from '../list-contract.js';
import { listCharges, listPapers, listPayments } from './lists.js';

const tags = ['accounts'];
const mayRefuse = refuses('set-up-missing');

export const accountListsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/papers',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'Papers that were issued, the latest first, by number, person, kind or day',
        querystring: contract.PaperQuery,
        response: { 200: listOf(contract.Paper), ...mayRefuse },
      },
    },
    (request) => read(request, (tx) => listPapers(tx, request.query)),
  );
  app.get(
    '/payments',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'Payments and what was paid back, the latest first, with what they were for',
        querystring: contract.PaymentQuery,
        response: { 200: listOf(contract.ListedPayment), ...mayRefuse },
      },
    },
    (request) => read(request, (tx) => listPayments(tx, request.query)),
  );
  app.get(
    '/charges',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'What people were asked for, the latest first, with what is paid and owed',
        querystring: contract.ChargeQuery,
        response: { 200: listOf(contract.ListedCharge), ...mayRefuse },
      },
    },
    (request) => read(request, (tx) => listCharges(tx, request.query)),
  );
};

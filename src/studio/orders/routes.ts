import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { PageQuery, pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { Arrived, Consignment } from '../materials/consignment-contract.js';
import { getStudio } from '../settings/service.js';
import { Cancelling, NewOrder, Order, Placing } from './contract.js';
import { orderCsv, orderName } from './order-document.js';
import { getProposal } from './proposal.js';
import { OrderProposal } from './proposal-contract.js';
import * as orders from './service.js';

const tags = ['orders'];
const params = z.object({ orderId: Id });
const changes = refuses('not-found', 'order-state', 'set-up-missing');

export const ordersRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/order-proposal',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'What needs ordering, as one order for each supplier',
        response: { 200: OrderProposal, ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, (tx, now) => getProposal(tx, now)),
  );
  app.post(
    '/orders',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Draft an order to a supplier, at the prices of today',
        body: NewOrder,
        response: { 201: Order, ...refuses('not-found') },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => orders.draftOrder(tx, now, request.body)),
  );
  app.get(
    '/orders',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'Orders, oldest first',
        querystring: PageQuery,
        response: { 200: pageOf(Order) },
      },
    },
    (request) => read(request, (tx) => orders.listOrders(tx, request.query)),
  );
  app.get(
    '/orders/:orderId',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'An order, and what has come of it',
        params,
        response: { 200: Order, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => orders.getOrder(tx, request.params.orderId)),
  );
  app.get(
    '/orders/:orderId/lines.csv',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'The lines of an order, for a spreadsheet',
        params,
        response: {
          200: { description: 'The lines', content: { 'text/csv': { schema: z.string() } } },
          ...refuses('not-found', 'set-up-missing'),
        },
      },
    },
    async (request, reply) => {
      const { order, currency } = await read(request, async (tx) => ({
        order: await orders.getOrder(tx, request.params.orderId),
        currency: (await getStudio(tx)).currency,
      }));
      const fileName = `${orderName(order.number).toLowerCase()}.csv`;
      reply.header('content-disposition', `attachment; filename="${fileName}"`).type('text/csv; charset=utf-8');
      return reply.serializer((text) => text as never).send(orderCsv(order, currency));
    },
  );
  app.post(
    '/orders/:orderId/placing',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Place an order: its paper is issued, and the outlook counts on it',
        params,
        body: Placing,
        response: { 201: Order, ...changes, ...refuses('unprintable') },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        orders.placeOrder(tx, now, request.params.orderId, request.body.expectedOn),
      ),
  );
  app.post(
    '/orders/:orderId/cancellation',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Cancel an order, or what has not come yet',
        params,
        body: Cancelling,
        response: { 201: Order, ...changes },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => orders.cancelOrder(tx, now, request.params.orderId, request.body.note)),
  );
  app.post(
    '/orders/:orderId/consignments',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Receive what came of an order, all or a part: a lot of each material',
        params,
        body: Arrived,
        response: { 201: Consignment, ...changes },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => orders.receiveOrder(tx, now, request.params.orderId, request.body)),
  );
};

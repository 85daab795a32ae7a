import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import * as contract from './consignment-contract.js';
import { getConsignment, receiveConsignment, shareCarriage } from './consignments.js';
import { CostedLot } from './contract.js';
import { recordReclaim, returnLot } from './returns.js';

const tags = ['materials'];
const params = z.object({ consignmentId: Id });
const ofMaterial = z.object({ materialId: Id });
const writes = refuses('not-found', 'set-up-missing');

/** What comes together, what its carriage costs, what goes back and what is won back. */
export const consignmentRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/consignments',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Receive several lots that came together',
        body: contract.NewConsignment,
        response: { 201: contract.Consignment, ...writes },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => receiveConsignment(tx, now, request.body)),
  );
  app.get(
    '/consignments/:consignmentId',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'A consignment with its lots, at what they cost by now',
        params,
        response: { 200: contract.Consignment, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => getConsignment(tx, request.params.consignmentId)),
  );
  app.post(
    '/consignments/:consignmentId/carriage',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Share a carriage bill among the lots that came with it, by what they cost',
        params,
        body: contract.NewCarriage,
        response: { 201: contract.CarriageBill, ...writes },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => shareCarriage(tx, now, request.params.consignmentId, request.body)),
  );
  app.post(
    '/materials/:materialId/returns',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Send a part of a lot back to its supplier',
        params: ofMaterial,
        body: contract.NewReturn,
        response: { 201: contract.Returned, ...writes, ...refuses('stock-impossible') },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => returnLot(tx, now, { ...request.params, ...request.body })),
  );
  app.post(
    '/materials/:materialId/reclaim',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Put reclaimed material back on the shelf, as a lot of its own',
        params: ofMaterial,
        body: contract.NewReclaim,
        response: { 201: CostedLot, ...writes },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => recordReclaim(tx, now, { ...request.params, ...request.body })),
  );
};

import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { edit, write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { NewSale, NewTakingBack, Sale, SaleQuery, SellingPrice, Sold } from './contract.js';
import * as prices from './prices.js';
import { recordReturn, recordSale } from './service.js';
import { getSale, listSales } from './to-api.js';

const tags = ['sales'];
const params = z.object({ saleId: Id });
const ofMaterial = z.object({ materialId: Id });

/** Material that students take home: prices, so for those who may see money. */
export const salesRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/sales',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Sell material to somebody, who then owes its price',
        description:
          'It leaves the oldest lots; what is beyond recorded stock is taken as found. Take a payment for its charge.',
        body: NewSale,
        response: {
          201: Sold,
          ...refuses('not-found', 'price-incomplete', 'set-up-missing'),
        },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => recordSale(tx, now, request.body)),
  );
  app.get(
    '/sales',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'What was sold, the latest first: all, or to a person, or of a material',
        querystring: SaleQuery,
        response: { 200: pageOf(Sale) },
      },
    },
    (request) => read(request, (tx) => listSales(tx, request.query)),
  );
  app.get(
    '/sales/:saleId',
    {
      config: { right: 'money:read' },
      schema: { tags, summary: 'A sale', params, response: { 200: Sale, ...refuses('not-found') } },
    },
    (request) => read(request, (tx) => getSale(tx, request.params.saleId)),
  );
  app.post(
    '/sales/:saleId/takings-back',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Take all or a part of a sale back: onto the shelf, and off what is owed or was paid',
        params,
        body: NewTakingBack,
        response: {
          201: Sale,
          ...refuses('not-found', 'more-than-sold', 'address-missing', 'set-up-missing'),
        },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => recordReturn(tx, now, request.params.saleId, request.body)),
  );
  app.get(
    '/materials/:materialId/selling-price',
    {
      config: { right: 'money:read', tagged: true },
      schema: {
        tags,
        summary: 'What a material is sold for',
        params: ofMaterial,
        response: { 200: SellingPrice, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => prices.getSellingPrice(tx, request.params.materialId)),
  );
  app.put(
    '/materials/:materialId/selling-price',
    {
      config: { right: 'money:write', tagged: true },
      schema: {
        tags,
        summary: 'Say what a material is sold for from now on',
        params: ofMaterial,
        body: SellingPrice,
        response: {
          200: SellingPrice,
          ...refuses('not-found'),
        },
      },
    },
    (request, reply) => {
      const { materialId } = request.params;
      return edit(
        request,
        reply,
        (tx) => prices.lockSellingPrice(tx, materialId),
        (tx) => prices.changeSellingPrice(tx, materialId, request.body),
      );
    },
  );
};

import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { PageQuery, pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { edit, write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import {
  CostedLot,
  Count,
  Material,
  MaterialCosts,
  MaterialDrawn,
  MaterialInDetail,
  NewCount,
  NewLot,
  NewMaterial,
  NewMaterialDraw,
  StockedMaterial,
  StockMove,
  StockValueLine,
} from './contract.js';
import { getMaterialCosts, getStockValue } from './costs.js';
import * as stock from './service.js';
import { recordCount } from './stocktake.js';

const tags = ['materials'];
const params = z.object({ materialId: Id });
const writes = refuses('not-found', 'set-up-missing');

/** Quantities are for everybody who works there; what shows a cost stands on routes of its own, for those who may see money. */
export const materialsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/materials',
    {
      config: { right: 'stock:write' },
      schema: {
        tags,
        summary: 'Add a material: a clay body, a glaze, what is used up',
        description:
          'Keep the supplier’s safety data sheet at hand: the dust of clay and glaze is harmful to breathe. Clean up wet.',
        body: NewMaterial,
        response: { 201: Material, ...refuses('already-there', 'set-up-missing') },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => stock.addMaterial(tx, now, request.body)),
  );
  app.get(
    '/materials',
    {
      config: { right: 'stock:read' },
      schema: {
        tags,
        summary: 'Materials with what is on hand',
        querystring: PageQuery,
        response: { 200: pageOf(StockedMaterial) },
      },
    },
    (request) => read(request, (tx) => stock.listMaterials(tx, request.query)),
  );
  app.get(
    '/materials/:materialId',
    {
      config: { right: 'stock:read', tagged: true },
      schema: {
        tags,
        summary: 'A material with its lots and latest moves',
        params,
        response: { 200: MaterialInDetail, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => stock.getMaterialInDetail(tx, request.params.materialId)),
  );
  app.put(
    '/materials/:materialId',
    {
      config: { right: 'stock:write', tagged: true },
      schema: {
        tags,
        summary: 'Correct a material',
        description: 'Its kind and its unit can’t change once lots, plans or ware use them.',
        params,
        body: NewMaterial,
        response: {
          200: MaterialInDetail,
          ...writes,
          ...refuses('already-there', 'still-needed'),
        },
      },
    },
    (request, reply) => {
      const { materialId } = request.params;
      return edit(
        request,
        reply,
        (tx) => stock.lockMaterialForChange(tx, materialId),
        (tx, now) => stock.changeMaterial(tx, now, materialId, request.body),
      );
    },
  );
  app.get(
    '/materials/:materialId/moves',
    {
      config: { right: 'stock:read' },
      schema: {
        tags,
        summary: 'All that came in or went out of a material, oldest first',
        params,
        querystring: PageQuery,
        response: { 200: pageOf(StockMove), ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => stock.listMoves(tx, request.params.materialId, request.query)),
  );
  app.get(
    '/materials/:materialId/costs',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'What a material costs, and what is left of it is worth',
        params,
        response: { 200: MaterialCosts, ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request) => read(request, (tx) => getMaterialCosts(tx, request.params.materialId)),
  );
  app.get(
    '/stock-value',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'Every material with its latest price per pack and the worth of what is on hand',
        querystring: PageQuery,
        response: {
          200: pageOf(StockValueLine).extend({ totalMinor: z.int().meta({ description: 'Of all materials.' }) }),
          ...refuses('set-up-missing'),
        },
      },
    },
    (request) => read(request, (tx) => getStockValue(tx, request.query)),
  );
  app.post(
    '/materials/:materialId/lots',
    {
      config: { right: 'money:write' },
      schema: { tags, summary: 'Receive a lot', params, body: NewLot, response: { 201: CostedLot, ...writes } },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => stock.receiveLot(tx, now, { ...request.params, ...request.body })),
  );
  app.post(
    '/materials/:materialId/draws',
    {
      config: { right: 'stock:write' },
      schema: {
        tags,
        summary: 'Use material from the oldest lots; what is beyond recorded stock is taken as found',
        params,
        body: NewMaterialDraw,
        response: { 201: MaterialDrawn, ...writes },
      },
    },
    (request, reply) =>
      write(request, reply, 201, async (tx, now) => {
        const { costMinor: _, ...shown } = await stock.drawMaterial(tx, now, { ...request.params, ...request.body });
        return shown; // who draws may not be allowed to see money
      }),
  );
  app.post(
    '/materials/:materialId/counts',
    {
      config: { right: 'stock:write' },
      schema: {
        tags,
        summary: 'Enter what was counted; recorded stock is corrected by a move that says why',
        params,
        body: NewCount,
        response: { 201: Count, ...writes },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => recordCount(tx, now, { ...request.params, ...request.body })),
  );
};

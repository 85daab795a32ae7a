import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Removed } from '../../http/editable.js';
import { PageQuery, pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { edit, write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { NewSupplier, Supplier, Supply } from './supplier-contract.js';
import * as suppliers from './suppliers.js';

const tags = ['materials'];
const params = z.object({ supplierId: Id });
const ofMaterial = z.object({ materialId: Id });

/** Suppliers, and what is bought of them: prices, so for those who may see money. */
export const supplierRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/suppliers',
    {
      config: { right: 'money:write', tagged: true },
      schema: {
        tags,
        summary: 'Add a supplier',
        body: NewSupplier,
        response: { 201: Supplier, ...refuses('already-there') },
      },
    },
    (request, reply) => write(request, reply, 201, (tx) => suppliers.addSupplier(tx, request.body)),
  );
  app.get(
    '/suppliers',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'All suppliers',
        querystring: PageQuery,
        response: { 200: pageOf(Supplier) },
      },
    },
    (request) => read(request, (tx) => suppliers.listSuppliers(tx, request.query)),
  );
  app.get(
    '/suppliers/:supplierId',
    {
      config: { right: 'money:read', tagged: true },
      schema: { tags, summary: 'A supplier', params, response: { 200: Supplier, ...refuses('not-found') } },
    },
    (request) => read(request, (tx) => suppliers.getSupplier(tx, request.params.supplierId)),
  );
  app.put(
    '/suppliers/:supplierId',
    {
      config: { right: 'money:write', tagged: true },
      schema: {
        tags,
        summary: 'Change a supplier',
        params,
        body: NewSupplier,
        response: {
          200: Supplier,
          ...refuses('not-found', 'already-there'),
        },
      },
    },
    (request, reply) => {
      const { supplierId } = request.params;
      return edit(
        request,
        reply,
        (tx) => suppliers.lockSupplier(tx, supplierId),
        (tx) => suppliers.changeSupplier(tx, supplierId, request.body),
      );
    },
  );
  app.post(
    '/suppliers/:supplierId/removal',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Remove a supplier that nothing refers to',
        params,
        response: { 200: Removed, ...refuses('not-found', 'still-needed') },
      },
    },
    (request, reply) =>
      write(request, reply, 200, async (tx) => {
        await suppliers.removeSupplier(tx, request.params.supplierId);
        return { id: request.params.supplierId };
      }),
  );
  app.get(
    '/materials/:materialId/supply',
    {
      config: { right: 'money:read', tagged: true },
      schema: {
        tags,
        summary: 'Where a material is usually bought, and in which packs',
        params: ofMaterial,
        response: { 200: Supply, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => suppliers.getSupply(tx, request.params.materialId)),
  );
  app.put(
    '/materials/:materialId/supply',
    {
      config: { right: 'money:write', tagged: true },
      schema: {
        tags,
        summary: 'Say where a material is usually bought, and in which packs',
        params: ofMaterial,
        body: Supply,
        response: { 200: Supply, ...refuses('not-found') },
      },
    },
    (request, reply) => {
      const { materialId } = request.params;
      return edit(
        request,
        reply,
        (tx) => suppliers.lockSupply(tx, materialId),
        (tx) => suppliers.changeSupply(tx, materialId, request.body),
      );
    },
  );
};

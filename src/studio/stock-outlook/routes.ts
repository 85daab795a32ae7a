import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../http/read.js';
import { refuses } from '../../problems.js';
import { OutlookItem } from './contract.js';
import { getOutlook } from './service.js';

export const stockOutlookRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/outlook',
    {
      config: { right: 'stock:read' },
      schema: {
        tags: ['planning'],
        summary: 'Stock of clay, glaze and the rest against coming courses',
        response: { 200: z.object({ items: z.array(OutlookItem) }), ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, async (tx, now) => ({ items: await getOutlook(tx, now) })),
  );
};

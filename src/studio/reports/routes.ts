import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { read } from '../../http/read.js';
import { refuses } from '../../problems.js';
import { Today } from './contract.js';
import { getToday } from './today.js';

export const reportsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/today',
    {
      config: { right: 'ware:read' },
      schema: {
        tags: ['reports'],
        summary: 'What needs doing today, and what waits',
        response: { 200: Today, ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, (tx, now) => getToday(tx, now, request.caller?.rights.has('money:read') ?? false)),
  );
};

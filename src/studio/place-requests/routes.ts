import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { listOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { refuses } from '../../problems.js';
import { PlaceRequest, PlaceRequestQuery } from './contract.js';
import { listRequests } from './service.js';

/** Who asked for a place on the web page. */
export const placeRequestRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/place-requests',
    {
      config: { right: 'money:read' },
      schema: {
        tags: ['bookings'],
        summary: 'Who asked for a place on the web page, and what became of it',
        querystring: PlaceRequestQuery,
        response: { 200: listOf(PlaceRequest), ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, (tx, now) => listRequests(tx, now, request.query)),
  );
};

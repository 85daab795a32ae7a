import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { read } from '../../../http/read.js';
import type { Right } from '../../../http/rights.js';
import { refuses } from '../../../problems.js';
import { Found, SearchQuery } from './contract.js';
import { search } from './search.js';

export const searchRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/search',
    {
      config: { right: 'signed-in' },
      schema: {
        tags: ['reports'],
        summary: 'People, pieces, courses and papers by words, a code or a number, as far as you may see them',
        querystring: SearchQuery,
        response: { 200: Found, ...refuses('set-up-missing') },
      },
    },
    (request) =>
      read(request, (tx, now) => {
        const may = (right: Right) => request.caller?.rights.has(right) ?? false;
        const sees = { people: may('people:read'), pieces: may('ware:read'), courses: may('courses:read') };
        return search(tx, now, request.query.q, { ...sees, papers: may('money:read') });
      }),
  );
};

import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { PageQuery, pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { getReach } from '../../trade/pricing/remakes.js';
import { getLossesByStage } from '../ware/queries.js';
import { PlanPrice, PlanPriceInShort, Price, PriceQuote } from './contract.js';
import { Losses } from './losses-contract.js';
import { listPlanPrices } from './plan-prices.js';
import { getPlanPrice, getPrice, saveQuote } from './service.js';

const tags = ['planning'];
const params = z.object({ courseId: Id });
const mayRefuse = refuses('not-found', 'price-incomplete', 'tariff-missing', 'set-up-missing');

export const pricingRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/courses/:courseId/price',
    {
      config: { right: 'planning:read' },
      schema: {
        tags,
        summary: 'What a course, an open studio or a private session must cost, with every line it is made of',
        params,
        querystring: z.strictObject({
          atMostMinor: z.coerce
            .number()
            .int()
            .min(0)
            .max(1_000_000_000)
            .optional()
            .meta({ description: 'Asks for the changes that would bring the fair price to this or below it.' }),
        }),
        response: { 200: Price, ...mayRefuse },
      },
    },
    (request) => read(request, (tx, now) => getPrice(tx, now, request.params.courseId, request.query.atMostMinor)),
  );
  app.get(
    '/losses',
    {
      config: { right: 'planning:read' },
      schema: {
        tags,
        summary: 'How far the pieces of courses had got when they were lost, and what follows from that',
        response: { 200: Losses },
      },
    },
    (request) =>
      read(request, async (tx) => {
        const lost = await getLossesByStage(tx);
        return { lost, reach: getReach(lost) };
      }),
  );
  app.get(
    '/plan-prices',
    {
      config: { right: 'planning:read' },
      schema: {
        tags,
        summary: 'What each plan would have to cost if it ran today, in the order of the plans, and its next course',
        querystring: PageQuery,
        response: { 200: pageOf(PlanPriceInShort), ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, (tx, now) => listPlanPrices(tx, now, request.query)),
  );
  app.get(
    '/course-plans/:planId/price',
    {
      config: { right: 'planning:read' },
      schema: {
        tags,
        summary: 'What a plan would have to cost if it ran today',
        params: z.object({ planId: Id }),
        querystring: z.strictObject({
          taxRateId: Id.optional().meta({
            description:
              "That of the plan's latest course, or of any, if left out; before the first course that of firings.",
          }),
        }),
        response: { 200: PlanPrice, ...mayRefuse },
      },
    },
    (request) => read(request, (tx, now) => getPlanPrice(tx, now, request.params.planId, request.query.taxRateId)),
  );
  app.post(
    '/courses/:courseId/price-quotes',
    {
      config: { right: 'planning:write' },
      schema: {
        tags,
        summary: 'Save today’s price, with all that it came from',
        params,
        response: { 201: PriceQuote, ...mayRefuse },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => saveQuote(tx, now, request.params.courseId)),
  );
};

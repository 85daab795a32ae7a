import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { getStudio } from '../settings/service.js';
import { Plan } from './plan-contract.js';
import { retirePlan } from './plans.js';

const tags = ['courses'];
const params = z.object({ planId: Id });
const response = { 200: Plan, ...refuses('not-found', 'already-there', 'set-up-missing') };

/** Plans that are no longer offered, and brought back. */
export const planRetirementRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/course-plans/:planId/retirement',
    {
      config: { right: 'courses:write' },
      schema: { tags, params, response, summary: 'Offer a plan for no new course; its courses and their results stay' },
    },
    (request, reply) =>
      write(request, reply, 200, async (tx, now) =>
        retirePlan(tx, request.params.planId, localDay(now, (await getStudio(tx)).timeZone)),
      ),
  );
  app.post(
    '/course-plans/:planId/return',
    {
      config: { right: 'courses:write' },
      schema: { tags, params, response, summary: 'Bring a retired plan back' },
    },
    (request, reply) => write(request, reply, 200, (tx) => retirePlan(tx, request.params.planId, null)),
  );
};

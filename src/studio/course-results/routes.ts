import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { PageQuery, pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { CourseResults, PlanProposals } from './contract.js';
import { listHours, recordHours } from './hours.js';
import { Hours, NewHours } from './hours-contract.js';
import { getProposals } from './proposals.js';
import { getCourseResults } from './service.js';

const tags = ['planning'];
const params = z.object({ courseId: Id });

export const courseResultsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/courses/:courseId/afterwards',
    {
      config: { right: 'planning:read' },
      schema: {
        tags,
        summary: 'What a course that has begun was planned to come to, and what it came to, line by line',
        params,
        response: {
          200: CourseResults,
          ...refuses('not-found', 'course-running', 'price-incomplete', 'tariff-missing', 'set-up-missing'),
        },
      },
    },
    (request) => read(request, (tx, now) => getCourseResults(tx, now, request.params.courseId)),
  );
  app.post(
    '/courses/:courseId/hours',
    {
      config: { right: 'courses:write' },
      schema: {
        tags,
        summary: 'Note time that somebody worked for a course; below zero, a correction',
        params,
        body: NewHours,
        response: { 201: Hours, ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => recordHours(tx, now, request.params.courseId, request.body)),
  );
  app.get(
    '/courses/:courseId/hours',
    {
      config: { right: 'planning:read' },
      schema: {
        tags,
        summary: 'The time that was noted for a course',
        params,
        querystring: PageQuery,
        response: { 200: pageOf(Hours), ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => listHours(tx, request.params.courseId, request.query)),
  );
  app.get(
    '/course-plans/:planId/proposals',
    {
      config: { right: 'planning:read' },
      schema: {
        tags,
        summary: 'What the next plan should assume, from what the latest 24 completed courses of this one measured',
        params: z.object({ planId: Id }),
        response: { 200: PlanProposals, ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request) => read(request, (tx) => getProposals(tx, request.params.planId)),
  );
};

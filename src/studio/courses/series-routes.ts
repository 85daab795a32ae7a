import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../http/read.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { Course } from './contract.js';
import { addCourses, checkSessions } from './series.js';
import { NewCourseSeries, SessionsChecked, SessionsToCheck } from './series-contract.js';

const tags = ['courses'];

/** Putting several courses into the calendar, and what is in the way of sessions. */
export const courseSeriesRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/course-series',
    {
      config: { right: 'courses:write' },
      schema: {
        tags,
        summary: 'Put several courses into the calendar, such as open studio every Saturday: all of them, or none',
        body: NewCourseSeries,
        response: {
          201: z.object({ items: z.array(Course) }),
          ...refuses('not-found', 'tutor-busy', 'room-full', 'too-soon', 'closed-day', 'set-up-missing'),
        },
      },
    },
    (request, reply) => write(request, reply, 201, async (tx) => ({ items: await addCourses(tx, request.body) })),
  );
  app.post(
    '/session-checks',
    {
      config: { right: 'courses:write', keyless: true },
      schema: {
        tags,
        summary: 'What is in the way of sessions at some times, one by one; changes nothing',
        body: SessionsToCheck,
        response: { 200: SessionsChecked, ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request) => read(request, (tx) => checkSessions(tx, request.body)),
  );
};

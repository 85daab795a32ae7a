import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { askForPlaces, getAskableCourse } from './asking.js';
import { AskableCourse, AskedPlaces, NewPlaceRequest } from './contract.js';

const tags = ['courses'];
const courseId = z.object({ courseId: Id });
/** By the address of who asks; each process counts for itself. A family asks for all its places at once. */
const REQUESTS_MAX = { max: 10, timeWindow: '1 hour' };

/** What anyone may ask for, where the owner takes requests. */
export const askingRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/public/courses/:courseId',
    {
      config: { right: 'public' },
      schema: {
        tags,
        summary: 'A course that anyone may ask for a place on, while the owner takes requests',
        params: courseId,
        response: { 200: AskableCourse, ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request) => read(request, (tx, now) => getAskableCourse(tx, now, request.params.courseId)),
  );
  app.post(
    '/public/courses/:courseId/requests',
    {
      config: { right: 'public', rateLimit: REQUESTS_MAX },
      schema: {
        tags,
        summary: "Ask for a place on a course; it isn't a booking",
        params: courseId,
        body: NewPlaceRequest,
        response: { 202: AskedPlaces, ...refuses('not-found', 'requests-waiting', 'set-up-missing') },
      },
    },
    (request, reply) =>
      write(request, reply, 202, (tx, now) => askForPlaces(tx, now, request.params.courseId, request.body)),
  );
};

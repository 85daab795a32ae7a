import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../http/member.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { NewExtraPlace } from './change-contract.js';
import { Course } from './contract.js';
import { addExtraPlace } from './extra-place.js';

/** One place more than was planned. */
export const extraPlaceRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/courses/:courseId/extra-places',
    {
      config: { right: 'courses:write' },
      schema: {
        tags: ['courses'],
        summary: 'Give a course that is full one place more than was planned, with the reason',
        params: z.object({ courseId: Id }),
        body: NewExtraPlace,
        response: { 201: Course, ...refuses('not-found', 'course-over', 'course-full', 'places-left', 'room-full') },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        addExtraPlace(tx, now, memberOf(request), request.params.courseId, request.body),
      ),
  );
};

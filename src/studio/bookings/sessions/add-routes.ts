import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../../http/member.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { NewSessionAdded } from '../../courses/change-contract.js';
import { preview, previewOf } from '../../notices/preview.js';
import { addSessionAndNotify, SessionAddition } from './add-session.js';
import { IN_THE_WAY } from './concerned.js';

const tags = ['bookings'];

/** Adding a session to those of a course. */
export const addingRoutes: FastifyPluginAsyncZod = async (app) => {
  const adding = { tags, params: z.object({ courseId: Id }), body: NewSessionAdded };
  app.post(
    '/courses/:courseId/sessions/preview',
    {
      config: { right: 'courses:write', keyless: true },
      schema: {
        ...adding,
        summary: 'Whom one more session would concern, and the letter that each would get; changes nothing',
        response: { 200: previewOf(SessionAddition), ...refuses(...IN_THE_WAY) },
      },
    },
    (request) =>
      preview(request, (tx, now) =>
        addSessionAndNotify(tx, now, memberOf(request), request.params.courseId, request.body),
      ),
  );
  app.post(
    '/courses/:courseId/sessions',
    {
      config: { right: 'courses:write' },
      schema: {
        ...adding,
        summary: 'Add a session to a course, in the order of time, and tell everyone who has a place',
        response: { 201: SessionAddition, ...refuses(...IN_THE_WAY) },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        addSessionAndNotify(tx, now, memberOf(request), request.params.courseId, request.body),
      ),
  );
};

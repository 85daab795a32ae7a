import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { NewSessionMove } from '../courses/change-contract.js';
import { memberOf } from '../courses/change-routes.js';
import { preview, previewOf } from '../notices/preview.js';
import { moveSessionAndNotify, SessionMove } from './move-session.js';

/** Moving a session, and what that would tell whom. */
export const sessionRoutes: FastifyPluginAsyncZod = async (app) => {
  const moving = { tags: ['bookings'], params: z.object({ sessionId: Id }), body: NewSessionMove };
  const immovable = refuses(
    ...(['not-found', 'course-over', 'wrong-time', 'too-soon', 'tutor-busy', 'room-full', 'set-up-missing'] as const),
  );
  app.post(
    '/sessions/:sessionId/moves/preview',
    {
      config: { right: 'courses:write', keyless: true },
      schema: {
        ...moving,
        summary: 'Whom moving a session would concern, and the letter that each would get; changes nothing',
        response: { 200: previewOf(SessionMove), ...immovable },
      },
    },
    (request) =>
      preview(request, (tx, now) =>
        moveSessionAndNotify(tx, now, memberOf(request), request.params.sessionId, request.body),
      ),
  );
  app.post(
    '/sessions/:sessionId/moves',
    {
      config: { right: 'courses:write' },
      schema: {
        ...moving,
        summary: 'Move a session to another time or room, or give it other tutors, and tell everyone concerned',
        response: { 201: SessionMove, ...immovable },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        moveSessionAndNotify(tx, now, memberOf(request), request.params.sessionId, request.body),
      ),
  );
};

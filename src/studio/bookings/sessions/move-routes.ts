import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../../http/member.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { NewSessionMove } from '../../courses/change-contract.js';
import { preview, previewOf } from '../../notices/preview.js';
import { IN_THE_WAY } from './concerned.js';
import { moveSessionAndNotify, SessionMove } from './move-session.js';

const tags = ['bookings'];

/** Moving a session, and what that would tell whom. */
export const movingRoutes: FastifyPluginAsyncZod = async (app) => {
  const moving = { tags, params: z.object({ sessionId: Id }), body: NewSessionMove };
  const immovable = refuses(...IN_THE_WAY, 'already-cancelled');
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

import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../../http/member.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { NewSessionAdded, NewSessionMove } from '../../courses/change-contract.js';
import { preview, previewOf } from '../../notices/preview.js';
import { addSessionAndNotify, SessionAddition } from './add-session.js';
import { moveSessionAndNotify, SessionMove } from './move-session.js';

const tags = ['bookings'];
const TIMES = [
  ...(['not-found', 'course-over', 'wrong-time', 'too-soon', 'tutor-busy', 'room-full', 'set-up-missing'] as const),
];

/** Moving a session, and what that would tell whom. */
export const movingRoutes: FastifyPluginAsyncZod = async (app) => {
  const moving = { tags, params: z.object({ sessionId: Id }), body: NewSessionMove };
  const immovable = refuses(...TIMES, 'already-cancelled');
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
        response: { 200: previewOf(SessionAddition), ...refuses(...TIMES) },
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
        response: { 201: SessionAddition, ...refuses(...TIMES) },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        addSessionAndNotify(tx, now, memberOf(request), request.params.courseId, request.body),
      ),
  );
};

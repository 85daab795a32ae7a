import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../../http/member.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { NewRemainingSessions } from '../../courses/change-contract.js';
import { preview, previewOf } from '../../notices/preview.js';
import { IN_THE_WAY } from './concerned.js';
import { changeRemainingAndNotify, RemainingSessions } from './remaining-sessions.js';

const tags = ['bookings'];

/** Another room or other tutors for all sessions to come, and what that would tell whom. */
export const remainingRoutes: FastifyPluginAsyncZod = async (app) => {
  const changing = { tags, params: z.object({ courseId: Id }), body: NewRemainingSessions };
  const refused = refuses(...IN_THE_WAY);
  app.post(
    '/courses/:courseId/remaining-sessions/preview',
    {
      config: { right: 'courses:write', keyless: true },
      schema: {
        ...changing,
        summary: 'Whom another room or other tutors of all sessions to come would concern; changes nothing',
        response: { 200: previewOf(RemainingSessions), ...refused },
      },
    },
    (request) =>
      preview(request, (tx, now) =>
        changeRemainingAndNotify(tx, now, memberOf(request), request.params.courseId, request.body),
      ),
  );
  app.post(
    '/courses/:courseId/remaining-sessions',
    {
      config: { right: 'courses:write' },
      schema: {
        ...changing,
        summary: 'Give all sessions to come another room or other tutors, and tell everyone concerned',
        response: { 201: RemainingSessions, ...refused },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        changeRemainingAndNotify(tx, now, memberOf(request), request.params.courseId, request.body),
      ),
  );
};

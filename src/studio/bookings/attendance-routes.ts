import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../http/member.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { noteAttendance } from './attendance.js';
import { Attendance, NewAttendance } from './contract.js';

/** Who came to a session. */
export const attendanceRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/sessions/:sessionId/attendance',
    {
      config: { right: 'attendance:write' },
      schema: {
        tags: ['bookings'],
        summary: 'Note whether somebody came to a session, or take that back; the latest counts',
        params: z.object({ sessionId: Id }),
        body: NewAttendance,
        response: { 201: Attendance, ...refuses('not-found', 'no-place', 'session-ahead', 'set-up-missing') },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        noteAttendance(tx, now, memberOf(request), request.params.sessionId, request.body),
      ),
  );
};

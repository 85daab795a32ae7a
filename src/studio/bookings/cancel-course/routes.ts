import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { LONG_LIMIT_MILLISECONDS } from '../../../database/transaction.js';
import { memberOf } from '../../../http/member.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { preview, previewOf } from '../../notices/preview.js';
import { CourseCancellation, NewCourseCancellation } from './contract.js';
import { cancelCourse } from './service.js';

// Two hundred bookings, each with its credit note and letter, may take longer than a request usually does on a busy machine.
const LIMIT = { limitMilliseconds: LONG_LIMIT_MILLISECONDS };

/** Cancelling a course as a whole, and what that would give back and tell whom. */
export const courseCancellationRoutes: FastifyPluginAsyncZod = async (app) => {
  const cancelling = { tags: ['bookings'], params: z.object({ courseId: Id }), body: NewCourseCancellation };
  const uncancellable = refuses(
    ...([
      'not-found',
      'already-cancelled',
      'course-over',
      'enough-booked',
      'more-than-owed',
      'set-up-missing',
    ] as const),
  );
  app.post(
    '/courses/:courseId/cancellation/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...cancelling,
        summary: 'What cancelling a course would give back to whom, and every letter; changes nothing',
        response: { 200: previewOf(CourseCancellation), ...uncancellable },
      },
    },
    (request) =>
      preview(
        request,
        (tx, now) => cancelCourse(tx, now, memberOf(request), request.params.courseId, request.body),
        LIMIT,
      ),
  );
  app.post(
    '/courses/:courseId/cancellation',
    {
      config: { right: 'money:write' },
      schema: {
        ...cancelling,
        summary: 'Cancel a course as a whole: all that was paid goes back, everyone is told, rooms and tutors are free',
        response: { 201: CourseCancellation, ...uncancellable },
      },
    },
    (request, reply) =>
      write(
        ...([request, reply, 201] as const),
        (tx, now) => cancelCourse(tx, now, memberOf(request), request.params.courseId, request.body),
        LIMIT,
      ),
  );
};

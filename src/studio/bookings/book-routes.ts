import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { preview, previewOf } from '../notices/preview.js';
import { Booking, NewBooking } from './contract.js';
import * as bookings from './service.js';

const tags = ['bookings'];
const courseId = z.object({ courseId: Id });

/** Booking places, and what it would come to. */
export const bookRoutes: FastifyPluginAsyncZod = async (app) => {
  const booking = { tags, params: courseId, body: NewBooking };
  const unbookable = refuses('not-found', 'course-full', 'concession-full', 'course-over', 'already-there');
  app.post(
    '/courses/:courseId/bookings/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...booking,
        summary: 'What a booking would cost and until when it would be held, and its letter; changes nothing',
        response: { 200: previewOf(Booking), ...unbookable },
      },
    },
    (request) => preview(request, (tx, now) => bookings.bookPlaces(tx, now, request.params.courseId, request.body)),
  );
  app.post(
    '/courses/:courseId/bookings',
    {
      config: { right: 'money:write' },
      schema: {
        ...booking,
        summary: 'Book places on a course, and hold them for their deposit',
        response: { 201: Booking, ...unbookable },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => bookings.bookPlaces(tx, now, request.params.courseId, request.body)),
  );
};

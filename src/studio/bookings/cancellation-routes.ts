import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { preview, previewOf } from '../notices/preview.js';
import { Cancellation, NewCancellation } from './contract.js';
import * as bookings from './service.js';

const tags = ['bookings'];
const bookingId = z.object({ bookingId: Id });

/** Cancelling a booking, and what it would refund. */
export const cancellationRoutes: FastifyPluginAsyncZod = async (app) => {
  const cancelling = { tags, params: bookingId, body: NewCancellation };
  const uncancellable = refuses('not-found', 'already-cancelled', 'course-over', 'more-than-owed');
  app.post(
    '/bookings/:bookingId/cancellation/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...cancelling,
        summary: 'What cancelling a booking would refund and why, and its letter; changes nothing',
        response: { 200: previewOf(Cancellation), ...uncancellable },
      },
    },
    (request) => preview(request, (tx, now) => bookings.cancelBooking(tx, now, request.params.bookingId, request.body)),
  );
  app.post(
    '/bookings/:bookingId/cancellation',
    {
      config: { right: 'money:write' },
      schema: {
        ...cancelling,
        summary: 'Cancel a booking, with a refund by the tiers of its policy or as the owner decides',
        response: { 201: Cancellation, ...uncancellable },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => bookings.cancelBooking(tx, now, request.params.bookingId, request.body)),
  );
};

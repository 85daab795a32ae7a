import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { Booking, NewBooking } from '../bookings/contract.js';
import { NewWaitingEntry, WaitingEntry } from '../bookings/waiting-list/contract.js';
import { preview, previewOf } from '../notices/preview.js';
import { PlaceRequest } from './contract.js';
import { bookRequest, declineRequest, letWait } from './service.js';

const requestId = z.object({ requestId: Id });
const config = { right: 'money:write' } as const;
const tags = ['bookings'];

/** Answering who asked for a place. */
export const answerRoutes: FastifyPluginAsyncZod = async (app) => {
  const booking = { tags, params: requestId, body: NewBooking };
  const unbookable = refuses('not-found', 'course-full', 'concession-full', 'course-over', 'already-there');
  app.post(
    '/place-requests/:requestId/booking/preview',
    {
      config: { ...config, keyless: true },
      schema: {
        ...booking,
        summary: 'What booking a place that was asked for would cost, and its letter; changes nothing',
        response: { 200: previewOf(Booking), ...unbookable },
      },
    },
    (request) => preview(request, (tx, now) => bookRequest(tx, now, request.params.requestId, request.body)),
  );
  app.post(
    '/place-requests/:requestId/booking',
    {
      config,
      schema: { ...booking, summary: 'Book what was asked for', response: { 201: Booking, ...unbookable } },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => bookRequest(tx, now, request.params.requestId, request.body)),
  );
  app.post(
    '/place-requests/:requestId/waiting-entry',
    {
      config,
      schema: {
        tags,
        summary: 'Put who asked for a place on the waiting list of a course that is full',
        params: requestId,
        body: NewWaitingEntry,
        response: {
          201: WaitingEntry,
          ...refuses('not-found', 'already-there', 'already-waiting', 'places-left', 'course-full', 'course-over'),
        },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => letWait(tx, now, request.params.requestId, request.body)),
  );
  app.post(
    '/place-requests/:requestId/decline',
    {
      config,
      schema: {
        tags,
        summary: 'Note that nothing comes of a request; no letter is sent',
        params: requestId,
        response: { 200: PlaceRequest, ...refuses('not-found', 'already-there') },
      },
    },
    (request, reply) => write(request, reply, 200, (tx, now) => declineRequest(tx, now, request.params.requestId)),
  );
};

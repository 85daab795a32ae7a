import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { preview, previewOf } from '../../notices/preview.js';
import { NewBooking } from '../contract.js';
import { acceptOffer } from './acceptance.js';
import { Acceptance } from './contract.js';

const tags = ['bookings'];
const entryId = z.object({ entryId: Id });

/** Accepting an offer, which books it. */
export const acceptanceRoutes: FastifyPluginAsyncZod = async (app) => {
  const accepting = { tags, params: entryId, body: NewBooking };
  const unacceptable = refuses(
    'not-found',
    'no-offer',
    'course-full',
    'concession-full',
    'course-over',
    'already-there',
  );
  app.post(
    '/waiting-list/:entryId/acceptance/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...accepting,
        summary: 'What accepting an offer would book, and its letter; changes nothing',
        response: { 200: previewOf(Acceptance), ...unacceptable },
      },
    },
    (request) => preview(request, (tx, now) => acceptOffer(tx, now, request.params.entryId, request.body)),
  );
  app.post(
    '/waiting-list/:entryId/acceptance',
    {
      config: { right: 'money:write' },
      schema: {
        ...accepting,
        summary: 'Accept an offer: book what was kept for somebody who waited',
        response: { 201: Acceptance, ...unacceptable },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => acceptOffer(tx, now, request.params.entryId, request.body)),
  );
};

import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { preview, previewOf } from '../../notices/preview.js';
import { NewOffer, Removal, WaitingEntry } from './contract.js';
import { offerPlaces, removeFromWaitingList } from './offers.js';

const tags = ['bookings'];
const courseId = z.object({ courseId: Id });
const entryId = z.object({ entryId: Id });

/** Offers of places that are free to those who wait, and what comes of them; each is seen with its letters first. */
export const offerRoutes: FastifyPluginAsyncZod = async (app) => {
  const offering = { tags, params: courseId, body: NewOffer };
  const unofferable = refuses('not-found', 'nobody-waits', 'course-full', 'course-over');
  app.post(
    '/courses/:courseId/waiting-list/offers/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...offering,
        summary: 'To whom a free place would be offered and until when, and its letter; changes nothing',
        response: { 200: previewOf(WaitingEntry), ...unofferable },
      },
    },
    (request) => preview(request, (tx, now) => offerPlaces(tx, now, request.params.courseId, request.body)),
  );
  app.post(
    '/courses/:courseId/waiting-list/offers',
    {
      config: { right: 'money:write' },
      schema: {
        ...offering,
        summary:
          'Offer a free place to the first on the waiting list for whom it is enough, and keep it until a deadline',
        response: { 201: WaitingEntry, ...unofferable },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => offerPlaces(tx, now, request.params.courseId, request.body)),
  );
  const removing = { tags, params: entryId, body: z.strictObject({}) };
  app.post(
    '/waiting-list/:entryId/removal/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...removing,
        summary: 'To whom an offer would go if this person came off the list, and its letter; changes nothing',
        response: { 200: previewOf(Removal), ...refuses('not-found', 'no-offer') },
      },
    },
    (request) => preview(request, (tx, now) => removeFromWaitingList(tx, now, request.params.entryId)),
  );
  app.post(
    '/waiting-list/:entryId/removal',
    {
      config: { right: 'money:write' },
      schema: {
        ...removing,
        summary: 'Take somebody off the waiting list; an offer that they had is declined, and goes to the next',
        response: { 201: Removal, ...refuses('not-found', 'no-offer') },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => removeFromWaitingList(tx, now, request.params.entryId)),
  );
};

import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { preview, previewOf } from '../notices/preview.js';
import { FurtherRefund, NewFurtherRefund, RefundDue } from './contract.js';
import * as bookings from './service.js';

const tags = ['bookings'];
const bookingId = z.object({ bookingId: Id });

/** What is refunded once a place that was given up is filled again. */
export const refundRoutes: FastifyPluginAsyncZod = async (app) => {
  const refunding = { tags, params: bookingId, body: NewFurtherRefund };
  const unrefundable = refuses('not-found', 'nothing-owed', 'address-missing');
  app.post(
    '/bookings/:bookingId/further-refund/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...refunding,
        summary: 'What would be refunded since places are filled again, and its letter; changes nothing',
        response: { 200: previewOf(FurtherRefund), ...unrefundable },
      },
    },
    (request) =>
      preview(request, (tx, now) => bookings.payFurtherRefund(tx, now, request.params.bookingId, request.body)),
  );
  app.post(
    '/bookings/:bookingId/further-refund',
    {
      config: { right: 'money:write' },
      schema: {
        ...refunding,
        summary: 'Refund what is due since places that a booking gave up are filled again',
        response: { 201: FurtherRefund, ...unrefundable },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        bookings.payFurtherRefund(tx, now, request.params.bookingId, request.body),
      ),
  );
  app.get(
    '/refunds-due',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'To whom a refund is due since places that they gave up are filled again',
        response: { 200: z.object({ items: z.array(RefundDue) }), ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, async (tx) => ({ items: await bookings.listRefundsDue(tx) })),
  );
};

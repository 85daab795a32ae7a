import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { NewPayment, NewReversal, Payment } from '../accounts/contract.js';
import { preview, previewOf } from '../notices/preview.js';
import { PaymentReversal } from './contract.js';
import { payForBookings } from './payment.js';
import { reverseBookingPayment } from './reverse-payment.js';

/** Payments are of the accounts; they are taken here, since one may confirm a place, which accounts know nothing of. */
export const paymentsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/payments',
    {
      config: { right: 'money:write' },
      schema: {
        tags: ['accounts'],
        summary: 'Take a payment and issue its receipt; a booking whose deposit it completes is confirmed by a letter',
        body: NewPayment,
        response: {
          201: Payment,
          ...refuses(
            'not-found',
            'nothing-owed',
            'more-than-owed',
            'address-missing',
            'voucher-spent',
            'voucher-expired',
            'voucher-other-tax',
          ),
        },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => payForBookings(tx, now, request.body)),
  );
  const reversing = { tags: ['accounts'], params: z.object({ paymentId: Id }), body: NewReversal };
  const irreversible = refuses('not-found', 'not-reversible', 'address-missing');
  app.post(
    '/payments/:paymentId/reversal/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...reversing,
        summary: 'What taking a payment back would do, and the letter it would send; changes nothing',
        response: { 200: previewOf(PaymentReversal), ...irreversible },
      },
    },
    (request) => preview(request, (tx, now) => reverseBookingPayment(tx, now, request.params.paymentId, request.body)),
  );
  app.post(
    '/payments/:paymentId/reversal',
    {
      config: { right: 'money:write' },
      schema: {
        ...reversing,
        summary:
          'Take back a payment that was entered by mistake: what it paid is owed again, and a credit note takes its receipt back',
        response: { 201: PaymentReversal, ...irreversible },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => reverseBookingPayment(tx, now, request.params.paymentId, request.body)),
  );
};

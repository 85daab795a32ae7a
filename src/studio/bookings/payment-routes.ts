import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { NewPayment, Payment } from '../accounts/contract.js';
import { payForBookings } from './payment.js';

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
            'invalid-request',
            'key-required',
          ),
        },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => payForBookings(tx, now, request.body)),
  );
};

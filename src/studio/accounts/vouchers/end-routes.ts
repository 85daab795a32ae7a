import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../../http/member.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { preview, previewOf } from '../../notices/preview.js';
import { NewLapse, NewVoucherExtension, Voucher } from './contract.js';
import { extendVoucher } from './extension.js';
import { lapseVoucher } from './lapse.js';

const tags = ['accounts'];
const params = z.object({ voucherId: Id });

/** What is done with a voucher that was sold: a later last day, or its end. */
export const voucherEndRoutes: FastifyPluginAsyncZod = async (app) => {
  const extension = { tags, params, body: NewVoucherExtension };
  const unextended = refuses('not-found', 'voucher-still-valid', 'voucher-spent', 'unprintable');
  app.post(
    '/vouchers/:voucherId/extensions/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...extension,
        summary: 'What extending this voucher would do, with the letter; nothing is kept',
        response: { 200: previewOf(Voucher), ...unextended },
      },
    },
    (request) =>
      preview(request, (tx, now) => extendVoucher(tx, now, memberOf(request), request.params.voucherId, request.body)),
  );
  app.post(
    '/vouchers/:voucherId/extensions',
    {
      config: { right: 'money:write' },
      schema: {
        ...extension,
        summary: 'Make a voucher valid for longer, also one that has expired, with a new paper',
        response: { 201: Voucher, ...unextended },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        extendVoucher(tx, now, memberOf(request), request.params.voucherId, request.body),
      ),
  );
  app.post(
    '/vouchers/:voucherId/lapse',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Take what is left on an expired voucher as income',
        params,
        body: NewLapse,
        response: {
          201: Voucher,
          ...refuses('not-found', 'voucher-still-valid', 'voucher-spent'),
        },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => lapseVoucher(tx, now, request.params.voucherId, request.body)),
  );
};

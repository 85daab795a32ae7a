import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Transaction } from '../../../database/transaction.js';
import { listOf } from '../../../http/paging.js';
import { read } from '../../../http/read.js';
import { Id } from '../../../http/types.js';
import { write } from '../../../http/write.js';
import { refuses } from '../../../problems.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import { preview, previewOf } from '../../notices/preview.js';
import { getStudio } from '../../settings/service.js';
import { NewVoucher, SoldVoucher, Voucher, VoucherEvent, VoucherQuery } from './contract.js';
import { getVoucher, listVoucherEvents, listVouchers, sellVoucher } from './vouchers.js';

const tags = ['accounts'];
const params = z.object({ voucherId: Id });
const today = async (tx: Transaction, now: Date) => localDay(now, (await getStudio(tx)).timeZone);

export const voucherRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/vouchers',
    {
      config: { right: 'money:write' },
      schema: {
        tags,
        summary: 'Sell a voucher, with its paper and the receipt',
        body: NewVoucher,
        response: {
          201: SoldVoucher,
          ...refuses('not-found', 'set-up-missing', 'address-missing', 'unprintable'),
        },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => sellVoucher(tx, now, request.body)),
  );
  app.post(
    '/vouchers/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        tags,
        summary: 'What selling this voucher would do, with the letters; nothing is kept',
        body: NewVoucher,
        response: {
          200: previewOf(SoldVoucher),
          ...refuses('not-found', 'set-up-missing', 'address-missing', 'unprintable'),
        },
      },
    },
    (request) => preview(request, (tx, now) => sellVoucher(tx, now, request.body)),
  );
  app.get(
    '/vouchers',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'Vouchers with what is left on them, the latest sold first',
        querystring: VoucherQuery,
        response: { 200: listOf(Voucher), ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, async (tx, now) => listVouchers(tx, await today(tx, now), request.query)),
  );
  app.get(
    '/vouchers/:voucherId',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'A voucher, with what is left on it',
        params,
        response: { 200: Voucher, ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request) => read(request, (tx, now) => getVoucher(tx, () => today(tx, now), request.params.voucherId)),
  );
  app.get(
    '/vouchers/:voucherId/events',
    {
      config: { right: 'money:read' },
      schema: {
        ...{ tags, params },
        summary: 'What became of a voucher, the first first',
        response: { 200: z.object({ items: z.array(VoucherEvent) }), ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request) => read(request, async (tx) => ({ items: await listVoucherEvents(tx, request.params.voucherId) })),
  );
};

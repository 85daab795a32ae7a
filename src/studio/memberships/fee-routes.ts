import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { memberOf } from '../../http/member.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { preview, previewOf } from '../notices/preview.js';
import { addFee } from './fees.js';
import { MembershipFeeChanged, NewMembershipFee } from './kind-contract.js';

const schema = { tags: ['memberships'], params: z.object({ membershipKindId: Id }), body: NewMembershipFee };

/** What a membership costs from a day on. */
export const feeRoutes: FastifyPluginAsyncZod = async (app) => {
  const refused = refuses('not-found', 'notice-too-short', 'set-up-missing');
  app.post(
    '/membership-kinds/:membershipKindId/fees/preview',
    {
      config: { right: 'money:write', keyless: true },
      schema: {
        ...schema,
        summary: 'Whom a new fee would reach, with the letter to each; changes nothing',
        response: { 200: previewOf(MembershipFeeChanged), ...refused },
      },
    },
    (request) =>
      preview(request, (tx, now) => addFee(tx, now, memberOf(request), request.params.membershipKindId, request.body)),
  );
  app.post(
    '/membership-kinds/:membershipKindId/fees',
    {
      config: { right: 'money:write' },
      schema: {
        ...schema,
        summary: 'Set a new fee from a day on, and tell members from when they pay it',
        response: { 201: MembershipFeeChanged, ...refused },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        addFee(tx, now, memberOf(request), request.params.membershipKindId, request.body),
      ),
  );
};

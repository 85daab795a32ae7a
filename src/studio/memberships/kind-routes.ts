import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { editableRoutes } from '../../http/editable.js';
import { read } from '../../http/read.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { ChangedMembershipKind, ListedMembershipKind, MembershipKind, NewMembershipKind } from './kind-contract.js';
import { addKind, changeKind, getKind, listKinds, lockKind, removeKind } from './kinds.js';

const tag = 'memberships';

/** On what terms people can be members. */
export const kindRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/membership-kinds',
    {
      config: { right: 'money:read' },
      schema: {
        tags: [tag],
        summary: 'The kinds of membership, with what each includes and costs',
        response: { 200: z.object({ items: z.array(ListedMembershipKind) }), ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, async (tx, now) => ({ items: await listKinds(tx, now) })),
  );
  app.post(
    '/membership-kinds',
    {
      config: { right: 'settings:write' },
      schema: {
        tags: [tag],
        summary: 'Add a kind of membership',
        body: NewMembershipKind,
        response: { 201: ListedMembershipKind, ...refuses('not-found', 'already-there', 'set-up-missing') },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => addKind(tx, now, request.body)),
  );
  editableRoutes(app, {
    ...{ path: '/membership-kinds/:membershipKindId', tag, what: 'a kind of membership' },
    ...{ shown: MembershipKind, wanted: ChangedMembershipKind },
    rights: { read: 'money:read', write: 'settings:write' },
    ...{ get: getKind, lock: lockKind, change: changeKind, remove: removeKind },
  });
};

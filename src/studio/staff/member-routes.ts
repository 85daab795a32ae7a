import type { FastifyReply, FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
import { isLoopback, ownAddress } from '../../http/own-address.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { edit, write } from '../../http/write.js';
import { Problem, refuses } from '../../problems.js';
import { NewStaffMember, StaffEntry, StaffEntryWithLink, StaffMember } from './contract.js';
import type { LinkMaker } from './links.js';
import * as members from './members.js';

const tags = ['staff'];
const config = { right: 'staff:write' } as const;
const params = z.object({ staffMemberId: Id });

/** Who works here: invited, changed, removed. */
export const staffMemberRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/staff',
    {
      config,
      schema: {
        tags,
        summary: 'Who works here, those who were invited included; or who was removed',
        querystring: z.object({ who: z.enum(['current', 'removed']).default('current') }),
        response: { 200: z.object({ items: z.array(StaffEntry) }) },
      },
    },
    (request) => read(request, async (tx, now) => ({ items: await members.listStaff(tx, now, request.query.who) })),
  );
  app.post(
    '/staff',
    {
      config,
      schema: {
        tags,
        summary: 'Invite an owner or a tutor: they are sent a link by which they choose their password',
        body: NewStaffMember,
        response: { 201: StaffEntryWithLink, ...refuses('already-there') },
      },
    },
    (request, reply) =>
      writeLink(request, reply, 201, (tx, now, maker) => members.inviteStaffMember(tx, now, maker, request.body)),
  );
  app.get(
    '/staff/:staffMemberId',
    {
      config: { ...config, tagged: true },
      schema: {
        tags,
        summary: 'Somebody who works here',
        params,
        response: { 200: StaffMember, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => members.getStaffMember(tx, request.params.staffMemberId)),
  );
  app.put(
    '/staff/:staffMemberId',
    {
      config: { ...config, tagged: true },
      schema: {
        tags,
        summary: 'Replace name, address and role; what they may do changes at once',
        params,
        body: NewStaffMember,
        response: {
          200: StaffMember,
          ...refuses('not-found', 'already-there', 'last-owner'),
        },
      },
    },
    (request, reply) => {
      const { staffMemberId } = request.params;
      return edit(
        request,
        reply,
        (tx) => members.lockStaffMembers(tx, staffMemberId),
        (tx, now) => members.changeStaffMember(tx, now, staffMemberId, request.body),
      );
    },
  );
  app.post(
    '/staff/:staffMemberId/password-link',
    {
      config,
      schema: {
        tags,
        summary: 'Send a fresh link, to join or for a new password; the one before ends',
        params,
        response: { 200: StaffEntryWithLink, ...refuses('not-found') },
      },
    },
    (request, reply) =>
      writeLink(request, reply, 200, (tx, now, maker) =>
        members.renewLink(tx, now, maker, request.params.staffMemberId),
      ),
  );
  app.post(
    '/staff/:staffMemberId/removal',
    {
      config,
      schema: {
        tags,
        summary: 'Remove somebody, or withdraw an invitation: sessions, tokens and links end at once',
        params,
        response: { 200: StaffEntry, ...refuses('not-found', 'last-owner') },
      },
    },
    (request, reply) =>
      write(request, reply, 200, (tx, now) => members.removeStaffMember(tx, now, request.params.staffMemberId)),
  );
};

/** Answers with a link. The answer is kept under its key, so the link must not be in it: it is added on the way out. */
async function writeLink(
  request: FastifyRequest,
  reply: FastifyReply,
  status: number,
  work: (tx: Transaction, now: Date, maker: LinkMaker) => Promise<members.EntryAndLink>,
) {
  if (!request.caller) throw new Problem('signed-out', 'Sign in first.');
  const maker = { staffMemberId: request.caller.staffMemberId, ownAddress: ownAddress(request) };
  let linkAddress: string | null = null;
  const entry = await write(request, reply, status, async (tx, now) => {
    const made = await work(tx, now, maker);
    linkAddress = made.address;
    return made.entry;
  });
  return { ...entry, linkAddress, opensHereOnly: isLoopback(new URL(maker.ownAddress).host) };
}

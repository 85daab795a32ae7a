import type { FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { inTransaction } from '../../database/transaction.js';
import { read } from '../../http/read.js';
import { requireHttps } from '../../http/require-https.js';
import { dropSession, keepSession, readSession } from '../../http/session-cookie.js';
import { Problem, refuses } from '../../problems.js';
import { Credentials, Me, SetUp, StaffMember } from './contract.js';
import { GUESSES_MAX as rateLimit } from './guesses.js';
import { hashPassword } from './secrets.js';
import { getMe, setUpStaffMember } from './service.js';
import { ABSOLUTE_HOURS, signIn, signOut } from './sign-in.js';

const tags = ['staff'];

export const staffRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/set-up',
    {
      config: { right: 'public', keyless: true, rateLimit },
      schema: {
        tags,
        summary: 'Make the first owner, with the token of the set-up link',
        body: SetUp,
        response: {
          201: StaffMember,
          ...refuses('set-up-done', 'not-found', 'readable-on-the-way'),
        },
      },
    },
    async (request, reply) => {
      requireHttps(request);
      const { password, ...rest } = request.body;
      const passwordHash = await hashPassword(password);
      const owner = await inTransaction(app.db, (tx) => setUpStaffMember(tx, app.now(), { ...rest, passwordHash }));
      return reply.code(201).send(owner);
    },
  );
  app.post(
    '/sign-in',
    {
      config: { right: 'public', keyless: true, rateLimit },
      schema: {
        tags,
        summary: 'Sign in; the session is kept in a cookie',
        body: Credentials,
        response: {
          204: z.null(),
          ...refuses('wrong-password', 'readable-on-the-way'),
        },
      },
    },
    async (request, reply) => {
      requireHttps(request);
      const token = await signIn(app.db, app.now(), request.body);
      keepSession(request, reply, token, ABSOLUTE_HOURS * 3600);
      return reply.code(204).send(null);
    },
  );
  app.post(
    '/sign-out',
    {
      config: { right: 'signed-in', keyless: true },
      schema: { tags, summary: 'Sign out', response: { 204: z.null() } },
    },
    async (request, reply) => {
      const token = readSession(request);
      if (token) await signOut(app.db, token);
      dropSession(request, reply);
      return reply.code(204).send(null);
    },
  );
  app.get(
    '/me',
    {
      config: { right: 'signed-in' },
      schema: {
        tags,
        summary: 'Who is signed in, and what they may do',
        response: { 200: Me },
      },
    },
    async (request) => {
      const { sampleOf } = request.server;
      const known = await read(request, (tx, now) => getMe(tx, now, callerOf(request)));
      return { ...known, sample: sampleOf && { ownStudio: sampleOf.ownStudio(request) } };
    },
  );
};

function callerOf({ caller }: FastifyRequest) {
  if (!caller) throw new Problem('signed-out', 'Sign in first.');
  const { staffMemberId: id, name, email, role, rights } = caller;
  return { id, name, email, role, rights: [...rights] };
}

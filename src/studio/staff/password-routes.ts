import type { FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { inTransaction } from '../../database/transaction.js';
import { requireHttps } from '../../http/require-https.js';
import { readSession } from '../../http/session-cookie.js';
import { write } from '../../http/write.js';
import { Problem, refuses } from '../../problems.js';
import { LinkOwner, OpenedLink, PasswordByLink, PasswordChange, SessionsEnded, StaffMember } from './contract.js';
import { GUESSES_MAX as rateLimit } from './guesses.js';
import { getLinkOwner, setPasswordByLink } from './links.js';
import { changePassword, endOtherSessions } from './passwords.js';
import { hashPassword, isPassword } from './secrets.js';

const tags = ['staff'];

/** How somebody chooses their password: by a link, or with the one they have. */
export const passwordRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/password-link',
    {
      config: { right: 'public', rateLimit, keyless: true },
      schema: {
        tags,
        summary: 'Whose password a link sets; it stays unused',
        body: OpenedLink,
        response: { 200: LinkOwner, ...refuses('not-found', 'readable-on-the-way') },
      },
    },
    (request) => {
      requireHttps(request);
      return getLinkOwner(app.db, app.now(), request.body.token);
    },
  );
  app.post(
    '/password-link/use',
    {
      config: { right: 'public', rateLimit },
      schema: {
        tags,
        summary: 'Choose a password by a link, once',
        body: PasswordByLink,
        response: { 200: StaffMember, ...refuses('not-found', 'readable-on-the-way') },
      },
    },
    async (request, reply) => {
      requireHttps(request);
      const { token, password } = request.body;
      const passwordHash = await hashPassword(password);
      return write(request, reply, 200, (tx, now) => setPasswordByLink(tx, now, { token, passwordHash }));
    },
  );
  app.post(
    '/password',
    {
      config: { right: 'account:write', rateLimit },
      schema: {
        tags,
        summary: 'Change your own password; your other sessions end',
        body: PasswordChange,
        response: { 200: SessionsEnded, ...refuses('readable-on-the-way') },
      },
    },
    async (request, reply) => {
      requireHttps(request);
      const session = sessionOf(request);
      const { currentPassword, password } = request.body;
      const row = await app.db.staffMember.findUnique({ where: { id: session.staffMemberId } });
      const stored = row?.passwordHash ?? null;
      const known = (await isPassword(stored, currentPassword)) ? stored : null;
      const passwordHash = known === null ? null : await hashPassword(password);
      return write(request, reply, 200, (tx, now) => changePassword(tx, now, session, { known, passwordHash }));
    },
  );
  app.post(
    '/sign-out/others',
    {
      config: { right: 'account:write', keyless: true },
      schema: {
        tags,
        summary: 'Sign out on all other devices',
        response: { 200: SessionsEnded },
      },
    },
    (request) => inTransaction(app.db, (tx) => endOtherSessions(tx, sessionOf(request))),
  );
};

/** No token is given the right to this, so that whoever asks has a session. */
function sessionOf(request: FastifyRequest): { staffMemberId: string; token: string } {
  const token = readSession(request);
  if (!request.caller || token === undefined) throw new Problem('signed-out', 'Sign in first.');
  return { staffMemberId: request.caller.staffMemberId, token };
}

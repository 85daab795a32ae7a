import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
import { memberOf } from '../../http/member.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { preview, previewOf } from '../notices/preview.js';
import {
  MembershipChanged,
  MembershipInFull,
  NewNotice,
  NewPause,
  NewShelf,
  ShorterPause,
  Withdrawal,
} from './contract.js';
import { giveNotice, takeNoticeBack, withdrawMembership } from './notice.js';
import { pauseMembership, shortenPause } from './pauses.js';
import { giveShelf } from './shelves.js';

const tags = ['memberships'];
const params = z.object({ membershipId: Id });
const REFUSED = refuses(
  ...(['not-found', 'membership-over', 'membership-changed', 'month-charged', 'outside-membership'] as const),
  ...(['notice-too-short', 'already-there', 'already-member', 'address-missing', 'set-up-missing'] as const),
);

type By = { staffMemberId: string };
type Deed<B, P, T> = {
  path: string;
  params: z.ZodType<P>;
  body?: z.ZodType<B>;
  summary: string;
  /** Of what is seen first. */
  seen: string;
  answers: z.ZodType<T>;
  work(tx: Transaction, now: Date, by: By, params: P, body: B): Promise<T>;
};

/** What is done to a membership, and the same as it would be, with its letters. */
function deed<B, P, T>(
  app: FastifyInstance,
  { path, params, body, summary, seen, answers, work }: Deed<B, P, T>,
): void {
  const schema = { tags, params, ...(body && { body }) };
  const doIt = (request: FastifyRequest) => (tx: Transaction, now: Date) =>
    work(tx, now, memberOf(request), request.params as P, request.body as B);
  app.post(
    `${path}/preview`,
    {
      config: { right: 'money:write', keyless: true },
      schema: { ...schema, summary: `${seen}; changes nothing`, response: { 200: previewOf(answers), ...REFUSED } },
    },
    (request) => preview(request, doIt(request)),
  );
  app.post(
    path,
    { config: { right: 'money:write' }, schema: { ...schema, summary, response: { 201: answers, ...REFUSED } } },
    (request, reply) => write(request, reply, 201, doIt(request)),
  );
}

/** What becomes of a membership. */
export const changeRoutes: FastifyPluginAsyncZod = async (app) => {
  const own = { params, answers: MembershipChanged };
  deed(app, {
    ...{ ...own, path: '/memberships/:membershipId/pauses', body: NewPause },
    summary: 'Pause a membership from a day to another',
    seen: 'What a pause would take off, and its letter',
    work: (tx, now, by, { membershipId }, body) => pauseMembership(tx, now, by, membershipId, body),
  });
  deed(app, {
    ...{ ...own, path: '/memberships/:membershipId/pauses/:pauseId/end', body: ShorterPause },
    params: z.object({ membershipId: Id, pauseId: Id }),
    summary: 'End a pause sooner, or take it back',
    seen: 'The letter of a pause that ends sooner',
    work: (tx, now, by, { membershipId, pauseId }, body) => shortenPause(tx, now, by, membershipId, pauseId, body),
  });
  deed(app, {
    ...{ ...own, path: '/memberships/:membershipId/notice', body: NewNotice },
    summary: 'Give notice: the membership ends as its terms say, later, or sooner with a reason',
    seen: 'The last day of a membership, what is taken off, and its letter',
    work: (tx, now, by, { membershipId }, body) => giveNotice(tx, now, by, membershipId, body),
  });
  deed(app, {
    ...{ params, answers: MembershipInFull, path: '/memberships/:membershipId/notice/withdrawal' },
    summary: 'Take notice back: the membership goes on',
    seen: 'The letter that the membership goes on',
    work: (tx, now, by, { membershipId }) => takeNoticeBack(tx, now, by, membershipId),
  });
  app.post(
    '/memberships/:membershipId/withdrawal',
    {
      config: { right: 'money:write' },
      schema: {
        ...{ tags, params, body: Withdrawal },
        summary: 'Cancel a membership for which nothing was charged yet',
        response: { 201: MembershipInFull, ...REFUSED },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        withdrawMembership(tx, now, memberOf(request), request.params.membershipId, request.body.reason),
      ),
  );
  app.post(
    '/memberships/:membershipId/shelf',
    {
      config: { right: 'money:write' },
      schema: {
        ...{ tags, params, body: NewShelf },
        summary: 'Give a member a shelf, another one, or none',
        response: { 201: MembershipInFull, ...REFUSED, ...refuses('shelf-taken') },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) =>
        giveShelf(tx, now, memberOf(request), request.params.membershipId, request.body.boardId),
      ),
  );
};

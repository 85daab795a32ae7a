import type { FastifyReply, FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
import { BEFORE_FIRING, ELECTRICIAN, UNTIL_UNLOADED } from '../../documents/kiln-words.js';
import { listOf, PageQuery, pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import * as contract from './contract.js';
import { GivenAway, GivingAway } from './giving-away-contract.js';
import * as service from './service.js';

const tags = ['firings'];
const params = z.object({ firingId: Id });
const { FiringInDetail } = contract;
/** not-found 404; kiln-busy, wrong-state, wrong-stage, outside-range and in-another-kiln 409; a body that is not valid 422 */
const refused = refuses('not-found', 'wrong-state');

export const firingsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/firings',
    {
      config: { right: 'firings:write' },
      schema: {
        tags,
        summary: 'Plan a firing',
        body: contract.NewFiring,
        response: { 201: FiringInDetail, ...refused },
      },
    },
    (request, reply) =>
      write(request, reply, 201, async (tx, now) =>
        service.getFiring(tx, now, await service.planFiring(tx, now, request.body)),
      ),
  );
  app.get(
    '/kiln-fills',
    {
      config: { right: 'firings:read' },
      schema: {
        tags: ['kilns'],
        summary: 'How full each kiln usually is in each kind of firing, and how that is known',
        querystring: PageQuery,
        response: { 200: pageOf(contract.KilnFills) },
      },
    },
    (request) => read(request, (tx) => service.listKilnFills(tx, request.query)),
  );
  app.get(
    '/firings',
    {
      config: { right: 'firings:read' },
      schema: {
        tags,
        summary: 'Firings, by number, kiln, kind, state or day',
        querystring: contract.FiringQuery,
        response: { 200: listOf(contract.Firing) },
      },
    },
    (request) => read(request, (tx, now) => service.listFirings(tx, now, request.query)),
  );
  app.get(
    '/firings/:firingId',
    {
      config: { right: 'firings:read' },
      schema: {
        tags,
        summary: 'A firing: what is in the kiln, layer by layer, and its meter readings',
        params,
        response: { 200: FiringInDetail, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx, now) => service.getFiring(tx, now, request.params.firingId)),
  );
  app.post(
    '/firings/:firingId/plan',
    {
      config: { right: 'firings:write' },
      schema: {
        tags,
        summary: 'Move a planned firing to another time',
        params,
        body: contract.FiringPlan,
        response: { 200: FiringInDetail, ...refused },
      },
    },
    (request, reply) => change(request, reply, (tx, now, id) => service.moveFiring(tx, now, id, request.body)),
  );
  app.post(
    '/firings/:firingId/loading',
    {
      config: { right: 'firings:write' },
      schema: {
        tags,
        summary: 'Enter what is in the kiln, layer by layer',
        description: BEFORE_FIRING.join(' '),
        params,
        body: contract.Loading,
        response: { 200: FiringInDetail, ...refused },
      },
    },
    (request, reply) => change(request, reply, (tx, _now, id) => service.loadFiring(tx, id, request.body.placements)),
  );
  app.post(
    '/firings/:firingId/start',
    {
      config: { right: 'firings:write' },
      schema: {
        tags,
        summary: 'Start a firing; ventilate the kiln room, and keep somebody near',
        description: `${BEFORE_FIRING.join(' ')} Whether a firing may be left unattended is for the kiln’s manual, local rules and your insurer to say.`,
        params,
        body: contract.Start,
        response: { 200: FiringInDetail, ...refused },
      },
    },
    (request, reply) => {
      const { startedAt } = request.body;
      return change(request, reply, (tx, now, id) =>
        service.startFiring(tx, now, id, startedAt === undefined ? now : new Date(startedAt)),
      );
    },
  );
  app.post(
    '/firings/:firingId/readings',
    {
      config: { right: 'firings:write' },
      schema: {
        tags,
        summary: "Enter what the kiln's meter shows",
        description: 'A reading of the same moment is corrected by it, until the firing is settled.',
        params,
        body: contract.NewReading,
        response: { 201: contract.Reading, ...refused },
      },
    },
    (request, reply) =>
      write(request, reply, 201, (tx, now) => service.addReading(tx, now, request.params.firingId, request.body)),
  );
  app.post(
    '/firings/:firingId/unloading',
    {
      config: { right: 'firings:write' },
      schema: {
        tags,
        summary: 'Unload a firing, once the kiln is cold: how each piece came out',
        description: UNTIL_UNLOADED.join(' '),
        params,
        body: contract.Unloading,
        response: { 200: FiringInDetail, ...refused },
      },
    },
    (request, reply) => change(request, reply, (tx, now, id) => service.unloadFiring(tx, now, id, request.body)),
  );
  app.post(
    '/firings/:firingId/failure',
    {
      config: { right: 'firings:write' },
      schema: {
        tags,
        summary: 'Record that a firing failed: the studio pays for it, and its ware waits for another',
        description: `${ELECTRICIAN} Isolate the kiln before you touch anything.`,
        params,
        body: contract.Failure,
        response: { 200: FiringInDetail, ...refused },
      },
    },
    (request, reply) => change(request, reply, (tx, now, id) => service.failFiring(tx, now, id, request.body)),
  );
  app.post(
    '/pieces/giving-away',
    {
      config: { right: 'ware:write' },
      schema: {
        tags: ['ware'],
        summary: 'Give away ware that nobody collected, each piece with its caution',
        description:
          'The answer says of each piece what must be passed on with it, in writing: “decorative, not for food or drink”, or on whose word it may be used.',
        body: GivingAway,
        response: {
          200: z.object({ items: z.array(GivenAway) }),
          ...refuses('not-found', 'wrong-stage'),
        },
      },
    },
    (request, reply) =>
      write(request, reply, 200, async (tx, now) => ({ items: await service.giveAway(tx, now, request.body) })),
  );
};

/** Does something to the firing that the address names, and answers how it stands after that. */
function change(
  request: FastifyRequest,
  reply: FastifyReply,
  work: (tx: Transaction, now: Date, id: string) => Promise<void>,
) {
  const { firingId } = request.params as z.output<typeof params>;
  return write(request, reply, 200, async (tx, now) => {
    await work(tx, now, firingId);
    return service.getFiring(tx, now, firingId);
  });
}

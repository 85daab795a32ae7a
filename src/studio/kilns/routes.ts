import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { PageQuery, pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { Kiln, KilnWear, KilnWithWear, NewKiln, NewSchedule, NewTariff, Schedule, Tariff } from './contract.js';
import * as equipment from './service.js';

const tags = ['kilns'];
const writes = refuses('already-there');

/** Kilns and schedules are for everybody who fires; wear and tariffs are money, on routes of their own. */
export const kilnsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/kilns',
    {
      config: { right: 'settings:write' },
      schema: {
        tags,
        summary: 'Add a kiln',
        description:
          'A qualified electrician wires it, and its room is ventilated to the outside, as its manual and local regulations ask.',
        body: NewKiln,
        response: { 201: KilnWithWear, ...writes },
      },
    },
    (request, reply) => write(request, reply, 201, (tx) => equipment.addKiln(tx, request.body)),
  );
  app.get(
    '/kilns',
    {
      config: { right: 'firings:read' },
      schema: { tags, summary: 'Kilns', querystring: PageQuery, response: { 200: pageOf(Kiln) } },
    },
    (request) =>
      read(request, async (tx) => {
        const { items, next } = await equipment.listKilns(tx, request.query);
        return { items: items.map(({ wearMinor: _, ...kiln }) => kiln), next };
      }),
  );
  app.get(
    '/kilns/:kilnId/wear',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'What a firing of each kind wears off a kiln',
        params: z.object({ kilnId: Id }),
        response: { 200: KilnWear, ...refuses('not-found') },
      },
    },
    (request) =>
      read(request, async (tx) => {
        const { id, wearMinor } = await equipment.getKiln(tx, request.params.kilnId);
        return { kilnId: id, wearMinor };
      }),
  );
  app.post(
    '/schedules',
    {
      config: { right: 'settings:write' },
      schema: {
        tags,
        summary: 'Add a firing schedule',
        description:
          "What the manufacturers of kiln, clay and glaze say comes before any schedule. Ventilate, don't leave a firing unattended where local rules or your insurer forbid it, and open the kiln cold.",
        body: NewSchedule,
        response: { 201: Schedule, ...writes },
      },
    },
    (request, reply) => write(request, reply, 201, (tx) => equipment.addSchedule(tx, request.body)),
  );
  app.get(
    '/schedules',
    {
      config: { right: 'firings:read' },
      schema: {
        tags,
        summary: 'Firing schedules, with what they come to',
        querystring: PageQuery,
        response: { 200: pageOf(Schedule) },
      },
    },
    (request) => read(request, (tx) => equipment.listSchedules(tx, request.query)),
  );
  app.post(
    '/tariffs',
    {
      config: { right: 'settings:write' },
      schema: {
        tags,
        summary: 'Add an electricity tariff',
        description: 'It applies from its day until the next one begins.',
        body: NewTariff,
        response: { 201: Tariff, ...writes },
      },
    },
    (request, reply) => write(request, reply, 201, (tx) => equipment.addTariff(tx, request.body)),
  );
  app.get(
    '/tariffs',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'Electricity tariffs',
        querystring: PageQuery,
        response: { 200: pageOf(Tariff) },
      },
    },
    (request) => read(request, (tx) => equipment.listTariffs(tx, request.query)),
  );
};

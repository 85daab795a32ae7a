import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { read } from '../../http/read.js';
import { edit, write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { NewRefundPolicy, NewRoom, NewTaxRate, RefundPolicy, Room, Studio, TaxRate } from './contract.js';
import * as settings from './service.js';

const tags = ['settings'];
const lists = (item: z.ZodType) => z.object({ items: z.array(item) });

export const settingsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/studio',
    {
      config: { right: 'money:read', tagged: true },
      schema: {
        tags,
        summary: 'The studio and what it assumes',
        response: { 200: Studio, ...refuses('set-up-missing') },
      },
    },
    (request) => read(request, (tx) => settings.getStudio(tx)),
  );
  app.put(
    '/studio',
    {
      config: { right: 'settings:write', tagged: true },
      schema: {
        tags,
        summary: 'Enter the studio (If-None-Match: *), or change it (If-Match)',
        body: Studio,
        response: {
          200: Studio,
          ...refuses('not-found', 'never-changes'),
        },
      },
    },
    (request, reply) => edit(request, reply, settings.lockStudio, (tx) => settings.saveStudio(tx, request.body)),
  );
  app.get(
    '/tax-rates',
    { config: { right: 'signed-in' }, schema: { tags, summary: 'Tax rates', response: { 200: lists(TaxRate) } } },
    (request) => read(request, async (tx) => ({ items: await settings.listTaxRates(tx) })),
  );
  app.post(
    '/tax-rates',
    {
      config: { right: 'settings:write' },
      schema: {
        tags,
        summary: 'Add a tax rate',
        body: NewTaxRate,
        response: { 201: TaxRate, ...refuses('already-there') },
      },
    },
    (request, reply) => write(request, reply, 201, (tx) => settings.addTaxRate(tx, request.body)),
  );
  app.get(
    '/refund-policies',
    {
      config: { right: 'money:read' },
      schema: { tags, summary: 'Refund policies', response: { 200: lists(RefundPolicy) } },
    },
    (request) => read(request, async (tx) => ({ items: await settings.listRefundPolicies(tx) })),
  );
  app.post(
    '/refund-policies',
    {
      config: { right: 'settings:write' },
      schema: {
        tags,
        summary: 'Add a refund policy',
        body: NewRefundPolicy,
        response: { 201: RefundPolicy, ...refuses('already-there') },
      },
    },
    (request, reply) => write(request, reply, 201, (tx) => settings.addRefundPolicy(tx, request.body)),
  );
  app.get(
    '/rooms',
    { config: { right: 'signed-in' }, schema: { tags, summary: 'Rooms', response: { 200: lists(Room) } } },
    (request) => read(request, async (tx) => ({ items: await settings.listRooms(tx) })),
  );
  app.post(
    '/rooms',
    {
      config: { right: 'settings:write' },
      schema: {
        tags,
        summary: 'Add a room',
        body: NewRoom,
        response: { 201: Room, ...refuses('already-there') },
      },
    },
    (request, reply) => write(request, reply, 201, (tx) => settings.addRoom(tx, request.body)),
  );
};

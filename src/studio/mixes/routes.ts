import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { PageQuery, pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { edit, write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { Mix, MixCosts, NewMix, NewRecipe } from './contract.js';
import { getMixCosts } from './costs.js';
import * as recipes from './service.js';

const tags = ['mixes'];
const params = z.object({ mixId: Id });
const DUST =
  'The dust of glaze materials is harmful to breathe: wear a fit-tested mask, clean up wet, and follow each supplier’s safety data sheet.';

/** What stands in the recipes. Their batches have routes of their own. */
export const mixesRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/mixes',
    {
      config: { right: 'stock:write' },
      schema: {
        tags,
        summary: 'Say how a material is mixed from others, by weight',
        description: `A part may be mixed itself, but only of plain materials. ${DUST}`,
        body: NewMix,
        response: { 201: Mix, ...refuses('not-found', 'already-there') },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => recipes.addMix(tx, now, request.body)),
  );
  app.get(
    '/mixes',
    {
      config: { right: 'stock:read' },
      schema: {
        tags,
        summary: 'Mixes by their latest versions, oldest first',
        querystring: PageQuery,
        response: { 200: pageOf(Mix) },
      },
    },
    (request) => read(request, (tx) => recipes.listMixes(tx, request.query)),
  );
  app.get(
    '/mixes/:mixId',
    {
      config: { right: 'stock:read', tagged: true },
      schema: {
        tags,
        summary: 'A mix by its latest version',
        params,
        response: { 200: Mix, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => recipes.getMix(tx, request.params.mixId)),
  );
  app.put(
    '/mixes/:mixId',
    {
      config: { right: 'stock:write', tagged: true },
      schema: {
        tags,
        summary: 'Write a new version of a recipe; batches keep the one they were made by',
        description: DUST,
        params,
        body: NewRecipe,
        response: {
          200: Mix,
          ...refuses('not-found'),
        },
      },
    },
    (request, reply) => {
      const { mixId } = request.params;
      return edit(
        request,
        reply,
        (tx) => recipes.lockMix(tx, mixId),
        (tx, now) => recipes.changeRecipe(tx, now, mixId, request.body),
      );
    },
  );
  app.get(
    '/mixes/:mixId/costs',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'What the parts of a mix will cost, and what its batches did cost',
        params,
        response: { 200: MixCosts, ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request) => read(request, (tx) => getMixCosts(tx, request.params.mixId)),
  );
};

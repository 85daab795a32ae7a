import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { editableRoutes } from '../../http/editable.js';
import { read } from '../../http/read.js';
import { write } from '../../http/write.js';
import * as closures from './closures.js';
import { Closure, NewClosure } from './closures-contract.js';

const tag = 'settings';

export const closuresRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/closures',
    {
      config: { right: 'courses:read' },
      schema: {
        tags: [tag],
        summary: 'Days on which the studio is closed, the first first',
        response: { 200: z.object({ items: z.array(Closure) }) },
      },
    },
    (request) => read(request, async (tx) => ({ items: await closures.listClosures(tx) })),
  );
  app.post(
    '/closures',
    {
      config: { right: 'settings:write' },
      schema: {
        tags: [tag],
        summary: 'Note days on which the studio is closed; what is planned on them stays',
        body: NewClosure,
        response: { 201: Closure },
      },
    },
    (request, reply) => write(request, reply, 201, (tx) => closures.addClosure(tx, request.body)),
  );
  editableRoutes(app, {
    ...{
      path: '/closures/:closureId',
      tag,
      what: 'days on which the studio is closed',
      shown: Closure,
      wanted: NewClosure,
    },
    rights: { read: 'courses:read', write: 'settings:write' },
    ...{ get: closures.getClosure, lock: closures.lockClosure },
    ...{ change: closures.changeClosure, remove: closures.removeClosure },
  });
};

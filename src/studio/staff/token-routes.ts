import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { PageQuery, pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { write } from '../../http/write.js';
import { Problem, refuses } from '../../problems.js';
import { ApiToken, MadeApiToken, NewApiToken } from './contract.js';
import { newApiToken } from './secrets.js';
import { addToken, listTokens, revokeToken } from './tokens.js';

const tags = ['staff'];
const config = { right: 'staff:write' } as const;

export const tokenRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/tokens',
    {
      config,
      schema: {
        tags,
        summary: 'The tokens of scripts, also those that ended',
        querystring: PageQuery,
        response: { 200: pageOf(ApiToken) },
      },
    },
    (request) => read(request, (tx) => listTokens(tx, request.query)),
  );
  app.post(
    '/tokens',
    {
      config,
      schema: {
        tags,
        summary: 'Make a token for a script; it is shown once',
        body: NewApiToken,
        response: { 201: MadeApiToken },
      },
    },
    async (request, reply) => {
      const { caller, body } = request;
      if (!caller) throw new Problem('signed-out', 'Sign in first.');
      // The answer is kept under its key, so that the token must not stand in it: it is added on the way out.
      let token: string | null = null;
      const made = await write(request, reply, 201, (tx, now) => {
        token = newApiToken();
        return addToken(tx, now, caller, { ...body, token });
      });
      return { ...made, token };
    },
  );
  app.post(
    '/tokens/:tokenId/revocation',
    {
      config,
      schema: {
        tags,
        summary: 'End a token at once',
        params: z.object({ tokenId: Id }),
        response: { 200: ApiToken, ...refuses('not-found') },
      },
    },
    (request, reply) => write(request, reply, 200, (tx, now) => revokeToken(tx, now, request.params.tokenId)),
  );
};

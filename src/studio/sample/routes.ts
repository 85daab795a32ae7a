import type { FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { SampleStudio } from '../../http/sample-studio.js';
import { keepSampleSession } from '../../http/session-cookie.js';
import { Problem, refuses } from '../../problems.js';
import { ABSOLUTE_HOURS } from '../staff/sign-in.js';
import { SampleStatus, SampleVisit } from './contract.js';

const tags = ['sample studio'];
const config = { right: 'settings:write' } as const;
/** Each comes to the same however often it is asked for. */
const keyless = { ...config, keyless: true } as const;

const IMPOSSIBLE = {
  sample: 'This is the sample studio. Go back to your own, and open or remove the sample there.',
  halves:
    'Wareboard runs in separate parts here, and none of them can serve a second studio. To look at the sample, run "npm run demo" on your own computer.',
};

/** An invented studio in a database of its own, to look at. It is made, visited and removed from one's own; each can be asked for again. */
export const sampleRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/sample-studio',
    { config, schema: { tags, summary: 'Whether the sample studio is there', response: { 200: SampleStatus } } },
    async ({ server }) =>
      server.sampleStudio?.getStatus() ?? { state: 'impossible' as const, detail: whyImpossible(server) },
  );
  app.post(
    '/sample-studio',
    {
      config: keyless,
      schema: {
        tags,
        summary: 'Make the sample studio; it takes half a minute, after the answer',
        response: { 202: SampleStatus, ...refuses('sample-impossible') },
      },
    },
    async (request, reply) => reply.code(202).send(await studioOf(request).make(request)),
  );
  app.post(
    '/sample-studio/visit',
    {
      config: keyless,
      schema: {
        tags,
        summary: 'Enter the sample studio as its owner',
        response: { 200: SampleVisit, ...refuses('sample-impossible') },
      },
    },
    async (request, reply) => {
      const { url, session } = await studioOf(request).visit(request);
      keepSampleSession(request, reply, session, ABSOLUTE_HOURS * 3600);
      return { url };
    },
  );
  app.post(
    '/sample-studio/removal',
    {
      config: keyless,
      schema: {
        tags,
        summary: 'Remove the sample studio with all that was done in it',
        response: { 200: SampleStatus, ...refuses('sample-impossible') },
      },
    },
    (request) => studioOf(request).remove(),
  );
};

const whyImpossible = ({ sampleOf }: FastifyRequest['server']) => (sampleOf ? IMPOSSIBLE.sample : IMPOSSIBLE.halves);

function studioOf({ server }: FastifyRequest): SampleStudio {
  if (!server.sampleStudio) throw new Problem('sample-impossible', whyImpossible(server));
  return server.sampleStudio;
}

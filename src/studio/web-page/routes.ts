import type { FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { isLoopback, ownAddress } from '../../http/own-address.js';
import { read } from '../../http/read.js';
import { edit } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { WebPage, WebPageSettings } from './contract.js';
import { htmlFragment } from './html-fragment.js';
import { listPublicCourses } from './public-courses.js';
import { getWebPage, lockWebPage, saveWebPage } from './service.js';

const tags = ['settings'];
const right = 'settings:write';

export const webPageRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/web-page',
    {
      config: { right, tagged: true },
      schema: { tags, summary: "What the studio's own web page may show, and where", response: { 200: WebPage } },
    },
    (request) => read(request, async (tx) => shownTo(request, await getWebPage(tx))),
  );
  app.put(
    '/web-page',
    {
      config: { right, tagged: true },
      schema: {
        tags,
        summary: "Change what the studio's own web page may show (If-Match)",
        body: WebPageSettings,
        response: { 200: WebPage },
      },
    },
    (request, reply) =>
      edit(
        request,
        reply,
        async (tx) => shownTo(request, await lockWebPage(tx)),
        async (tx) => shownTo(request, await saveWebPage(tx, request.body)),
      ),
  );
  app.get(
    '/web-page/fragment',
    {
      config: { right },
      schema: {
        tags,
        summary: 'Coming courses as the web page shows them, whether it is on or not',
        response: { 200: z.object({ html: z.string() }), ...refuses('set-up-missing') },
      },
    },
    (request) =>
      read(request, async (tx, now) => ({
        html: htmlFragment(await listPublicCourses(tx, now, await getWebPage(tx), ownAddress(request))),
      })),
  );
};

/** The addresses are those by which this very request came, unless the program was told how people reach it. */
function shownTo(request: FastifyRequest, settings: WebPageSettings): WebPage {
  const base = ownAddress(request);
  const at = (ending: string) => `${base}/api/public/courses.${ending}`;
  return {
    ...settings,
    addresses: { json: at('json'), html: at('html'), ics: at('ics') },
    opensHereOnly: isLoopback(new URL(base).host),
  };
}

import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { listOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { refuses } from '../../problems.js';
import { DocumentInfo, Notice, NoticeInFull, NoticeQuery } from './contract.js';
import { getRendered } from './rendering.js';
import { getDocumentInfo, getNotice, listNotices } from './service.js';

const tags = ['notices'];
const params = z.object({ documentId: Id });

export const noticesRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/notices',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'Messages, and what became of them',
        querystring: NoticeQuery,
        response: { 200: listOf(Notice) },
      },
    },
    (request) => read(request, (tx) => listNotices(tx, request.query)),
  );
  app.get(
    '/notices/:noticeId',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'A message with its words, and what became of it',
        params: z.object({ noticeId: Id }),
        response: { 200: NoticeInFull, ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request) => read(request, (tx) => getNotice(tx, request.params.noticeId)),
  );
  app.get(
    '/documents/:documentId',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'A paper that was issued',
        params,
        response: { 200: DocumentInfo, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => getDocumentInfo(tx, request.params.documentId)),
  );
  app.get(
    '/documents/:documentId/pdf',
    {
      config: { right: 'money:read' },
      schema: {
        tags,
        summary: 'The paper as PDF: its first rendering, always the same',
        params,
        response: {
          200: { description: 'The paper', content: { 'application/pdf': { schema: z.any() } } },
          ...refuses('not-found', 'papers-busy'),
        },
      },
    },
    async (request, reply) => {
      const { pdf, fileName } = await getRendered(app, request.params.documentId);
      reply.header('content-disposition', `inline; filename="${fileName}"`).type('application/pdf');
      return reply.serializer((bytes) => bytes as never).send(Buffer.from(pdf));
    },
  );
};

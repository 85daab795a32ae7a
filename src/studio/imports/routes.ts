import type { FastifyError } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { csvOf } from '../../http/csv.js';
import { read } from '../../http/read.js';
import { write } from '../../http/write.js';
import { Problem, refuses } from '../../problems.js';
import { ImportCheck, ImportColumns, Imported } from './contract.js';
import { ROWS_MAX } from './csv-table.js';
import { decodeText } from './decode-text.js';
import type { ImportList } from './list.js';
import { lotImport } from './lots.js';
import { materialImport } from './materials.js';
import { peopleImport } from './people.js';
import { checkImport, importRows } from './service.js';

const BYTES_MAX = 5 * 1024 * 1024;
/** For thousands of rows on a busy machine. */
const BRINGING_MILLISECONDS_MAX = 120_000;
const tags = ['imports'];
const body = z.string().meta({
  description:
    'CSV by RFC 4180 in UTF-8, with or without a byte order mark; the headings in the first row; comma, semicolon or tab between cells. A number has one comma or point before its decimals, and none between thousands.',
});

/** Each kind of list has addresses of its own, since each takes another right. */
export const importsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.removeAllContentTypeParsers(); // in here alone: nothing but CSV comes this way
  app.addContentTypeParser('text/csv', { parseAs: 'buffer', bodyLimit: BYTES_MAX }, (_request, file, done) => {
    try {
      done(null, decodeText(file as Buffer));
    } catch (error) {
      done(error as Error);
    }
  });
  app.setErrorHandler((error: FastifyError) => {
    throw inWordsOfLists(error);
  });
  await app.register(routesOf(peopleImport));
  await app.register(routesOf(materialImport));
  await app.register(routesOf(lotImport));
};

function routesOf<T>(list: ImportList<T>): FastifyPluginAsyncZod {
  const { kind, right, summary } = list;
  const schema = { tags, consumes: ['text/csv'], body };
  const columns = list.columns.map(({ read: _, field: __, ...told }) => told);
  return async (app) => {
    app.get(
      `/imports/${kind}`,
      {
        config: { right },
        schema: { tags, summary: `The columns of a list of ${summary}`, response: { 200: ImportColumns } },
      },
      () => ({ rowsMax: ROWS_MAX, bytesMax: BYTES_MAX, columns }),
    );
    app.get(
      `/imports/${kind}.csv`,
      {
        config: { right },
        schema: {
          tags,
          summary: `An empty list of ${kind} to fill in: the headings alone`,
          response: { 200: { description: 'The headings', content: { 'text/csv': { schema: z.string() } } } },
        },
      },
      async (_request, reply) => {
        reply.header('content-disposition', `attachment; filename="${kind}.csv"`).type('text/csv; charset=utf-8');
        return reply.serializer((text) => text as never).send(csvOf([columns.map(({ heading }) => heading)]));
      },
    );
    app.post(
      `/imports/${kind}/check`,
      {
        config: { right, keyless: true },
        bodyLimit: BYTES_MAX,
        schema: {
          ...schema,
          summary: `What a list of ${kind} would add, and every problem in it; changes nothing`,
          response: {
            200: ImportCheck,
            ...refuses('set-up-missing'),
          },
        },
      },
      (request) => read(request, (tx, now) => checkImport(tx, now, list, request.body)),
    );
    app.post(
      `/imports/${kind}`,
      {
        config: { right },
        bodyLimit: BYTES_MAX,
        schema: {
          ...schema,
          summary: `Import a list of ${summary}, all of it or nothing`,
          response: {
            201: Imported,
            ...refuses('set-up-missing'),
          },
        },
      },
      (request, reply) => {
        const limitMilliseconds = BRINGING_MILLISECONDS_MAX;
        return write(request, reply, 201, (tx, now) => importRows(tx, now, list, request.body), { limitMilliseconds });
      },
    );
  };
}

function inWordsOfLists(error: FastifyError): Error {
  if (error.statusCode === 413)
    return new Problem(
      'too-large',
      `The file is larger than 5 MB. Split it into lists of at most ${ROWS_MAX} rows, each with the headings in its first row. Nothing was changed.`,
    );
  if (error.statusCode === 415 && !(error instanceof Problem))
    return new Problem('wrong-media-type', 'Send the list as text/csv, in UTF-8. Nothing was changed.');
  return error;
}

import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Transaction } from '../database/transaction.js';
import { refuses } from '../problems.js';
import { read } from './read.js';
import type { Right } from './rights.js';
import { Id } from './types.js';
import { edit, write } from './write.js';

export const Removed = z.object({ id: Id }).meta({ id: 'Removed' });

/** Something that is set up once, shown by its id, corrected as a whole, and removed while nothing refers to it. */
export interface Editable<Shown, Wanted> {
  /** Such as `/kilns/:kilnId`. */
  path: string;
  tag: string;
  /** In the middle of a sentence: "a kiln". */
  what: string;
  rights: { read: Right; write: Right };
  shown: z.ZodType<Shown>;
  wanted: z.ZodType<Wanted>;
  get(tx: Transaction, id: string): Promise<Shown>;
  /** Locks its row until the transaction ends, and then reads it. */
  lock(tx: Transaction, id: string): Promise<Shown>;
  change(tx: Transaction, id: string, wanted: Wanted): Promise<Shown>;
  remove(tx: Transaction, id: string): Promise<void>;
}

/** The routes of one such noun: GET and PUT of its address, and POST of its removal. */
export function editableRoutes<Shown, Wanted>(app: FastifyInstance, of: Editable<Shown, Wanted>): void {
  const param = of.path.slice(of.path.indexOf(':') + 1);
  const params = z.object({ [param]: Id });
  const idOf = (request: FastifyRequest) => (request.params as Record<string, string>)[param] ?? '';
  const tags = [of.tag];
  const one = of.what[0]?.toUpperCase() + of.what.slice(1);
  app.get(
    of.path,
    {
      config: { right: of.rights.read, tagged: true },
      schema: { tags, summary: one, params, response: { 200: of.shown, ...refuses('not-found') } },
    },
    (request) => read(request, (tx) => of.get(tx, idOf(request))),
  );
  app.put(
    of.path,
    {
      config: { right: of.rights.write, tagged: true },
      schema: {
        tags,
        summary: `Correct ${of.what}`,
        params,
        body: of.wanted,
        response: {
          200: of.shown,
          ...refuses('not-found', 'already-there', 'still-needed'),
        },
      },
    },
    (request, reply) => {
      const id = idOf(request);
      return edit(
        request,
        reply,
        (tx) => of.lock(tx, id),
        (tx) => of.change(tx, id, request.body as Wanted),
      );
    },
  );
  app.post(
    `${of.path}/removal`,
    {
      config: { right: of.rights.write },
      schema: {
        tags,
        summary: `Remove ${of.what} that nothing refers to`,
        params,
        response: { 200: Removed, ...refuses('not-found', 'still-needed') },
      },
    },
    (request, reply) =>
      write(request, reply, 200, async (tx) => {
        const id = idOf(request);
        await of.lock(tx, id);
        await of.remove(tx, id);
        return { id };
      }),
  );
}

import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import { type Limit, type Transaction, triedOut } from '../../database/transaction.js';
import { Notice, NoticeInFull } from './contract.js';
import { getNotice, noticesWrittenIn } from './service.js';

const { personId, personName, email, occasion, fileName } = Notice.shape;
const { subject, text } = NoticeInFull.shape;

export const PreviewedLetter = z
  .object({ personId, personName, email, occasion, fileName, subject, text })
  .meta({ id: 'PreviewedLetter', description: 'A letter as it would be sent.' });

/** What a deed would answer, and every letter that it would send. */
export const previewOf = <T extends z.ZodType>(outcome: T) =>
  z.object({ outcome, letters: z.array(PreviewedLetter).meta({ description: 'Every letter that it would send.' }) });

/** Answers what a request would do, by doing it and taking it back; nothing is kept, and no letter goes out. */
export function preview<T>(
  { server }: FastifyRequest,
  work: (tx: Transaction, now: Date) => Promise<T>,
  limit: Limit = {},
): Promise<{ outcome: T; letters: z.input<typeof PreviewedLetter>[] }> {
  const now = server.now();
  return triedOut(
    server.db,
    async (tx) => {
      const outcome = await work(tx, now);
      const letters = [];
      for (const id of noticesWrittenIn(tx)) letters.push(await getNotice(tx, id));
      return { outcome, letters };
    },
    limit,
  );
}

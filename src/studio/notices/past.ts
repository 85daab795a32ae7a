import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { unqueueDeliveries } from './queries.js';

/**
 * Notes that what was written until now, and is still undelivered, went out at its own time: for a studio whose past is loaded, and
 * whose people must not be written to once more. Its jobs leave the queue in the same transaction.
 *
 * @returns how many notices that were
 */
export async function noteAsSent(tx: Transaction): Promise<number> {
  const waiting = await tx.notice.findMany({
    where: { deliveries: { none: {} } },
    orderBy: { id: 'asc' },
    select: { id: true, createdAt: true, person: { select: { email: true } } },
  });
  if (waiting.length === 0) return 0;
  await tx.delivery.createMany({
    data: waiting.map(({ id, createdAt, person }) => ({
      ...{ id: newId(), noticeId: id, at: createdAt },
      ...(person.email === null
        ? { outcome: 'noAddress' as const, detail: 'No email address was known.' }
        : { outcome: 'sent' as const, detail: 'Sent at its time.' }),
    })),
  });
  await unqueueDeliveries(
    tx,
    waiting.map(({ id }) => id),
  );
  return waiting.length;
}

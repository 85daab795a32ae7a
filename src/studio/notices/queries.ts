import { type FoundPage, findPage, within } from '../../database/find-page.js';
import { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { personPatterns } from '../../trade/text/search-text.js';
import { personMatches } from '../people/queries.js';
import type { NoticeQuery, Occasion } from './contract.js';

/** The pause doubles and more each time, up to six hours: about five days in all, as long as RFC 5321 (4.5.4.1) asks a sender to try. */
const ATTEMPTS_MAX = 30;

export async function insertDocument(
  tx: Transaction,
  {
    id,
    kind,
    fileName,
    content,
    createdAt,
  }: { id: string; kind: string; fileName: string; content: object; createdAt: Date },
): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO document (id, kind, file_name, content, created_at)
    VALUES (${id}::uuid, ${kind}::document_kind, ${fileName}, ${JSON.stringify(content)}::jsonb, ${createdAt})`;
}

/** Writes a notice and queues its delivery: both commit, or neither. The job key makes it one job, however often it is asked for. */
export async function insertNotice(
  tx: Transaction,
  notice: {
    id: string;
    personId: string;
    occasion: Occasion;
    data: object;
    documentId?: string;
    messageId: string;
    createdAt: Date;
  },
): Promise<void> {
  const { id, personId, occasion, data, documentId = null, messageId, createdAt } = notice;
  await tx.$executeRaw`
    WITH written AS (
      INSERT INTO notice (id, person_id, occasion, data, document_id, message_id, created_at)
      VALUES (${id}::uuid, ${personId}::uuid, ${occasion}::notice_occasion, ${JSON.stringify(data)}::jsonb, ${documentId}::uuid,
              ${messageId}, ${createdAt}) RETURNING id)
    SELECT 1 FROM written, graphile_worker.add_job('deliver-notice', json_build_object('noticeId', written.id),
      job_key := 'deliver-' || written.id, max_attempts := ${ATTEMPTS_MAX})`;
}

/** Takes deliveries out of the queue in the transaction that notes that they need no sending. One that runs already is left to end. */
export async function unqueueDeliveries(tx: Transaction, noticeIds: readonly string[]): Promise<void> {
  const keys = noticeIds.map((id) => `deliver-${id}`);
  await tx.$executeRaw`SELECT graphile_worker.remove_job(key) FROM unnest(${keys}::text[]) AS key`;
}

/**
 * Queues the deliveries that a restored backup lacks: it holds the notices and not the queue. A notice waits until it was sent or
 * written, or nobody was to be reached; one that failed is tried again, once more than needed where it had failed for good.
 */
export const QUEUE_WAITING = `
  SELECT graphile_worker.add_job('deliver-notice', json_build_object('noticeId', n.id::text),
    job_key := 'deliver-' || n.id, max_attempts := ${ATTEMPTS_MAX})
    FROM notice n WHERE NOT EXISTS (
      SELECT FROM delivery d WHERE d.notice_id = n.id AND d.outcome IN ('sent', 'written', 'noAddress'))
   ORDER BY n.id`;

export function findNotices(
  tx: Transaction,
  query: NoticeQuery,
  days: { from?: Date; before?: Date },
): Promise<FoundPage> {
  const { q, personId, occasion, state, order } = query;
  return findPage(
    tx,
    {
      ...{ from: Prisma.sql`notice n`, id: Prisma.sql`n.id` },
      where: [
        q !== undefined && Prisma.sql`n.person_id IN (${personMatches(...personPatterns(q))})`,
        personId !== undefined && Prisma.sql`n.person_id = ${personId}::uuid`,
        occasion && Prisma.sql`n.occasion = ${occasion}::notice_occasion`,
        state && Prisma.sql`n.state = ${state}::notice_state`,
        within(Prisma.sql`n.created_at`, days),
      ],
      ...(order === 'newest' && { order: { by: Prisma.sql`n.created_at`, as: 'timestamptz', isDown: true } }),
    },
    query,
  );
}

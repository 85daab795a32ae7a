import { inOrder } from '../../database/find-page.js';
import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { checkContent } from '../../documents/contents.js';
import { unprintableIn } from '../../documents/fonts.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { recipientOf, WITH_GUARDIANS } from '../people/guardians.js';
import { momentsOf } from '../settings/days.js';
import { getStudio } from '../settings/service.js';
import type { DocumentInfo, Notice, NoticeInFull, NoticeQuery, Occasion } from './contract.js';
import { letterOf } from './letter.js';
import { findNotices, insertDocument, insertNotice } from './queries.js';

type DocumentKind = DocumentInfo['kind'];

/** Issues a paper: what it says is frozen here; it is rendered afterwards, once. @returns its id */
export async function issueDocument(
  tx: Transaction,
  now: Date,
  paper: { kind: DocumentKind; fileName: string; content: object },
): Promise<string> {
  const [missing] = unprintableIn(paper.content);
  if (missing)
    throw new Problem(
      'unprintable',
      `"${missing.text}" can't be printed: the font lacks ${missing.characters.join(' ')}. Write it in Latin, Greek or Cyrillic letters.`,
    );
  checkContent(paper.kind, paper.content);
  const id = newId();
  await insertDocument(tx, { id, ...paper, createdAt: now });
  return id;
}

/** Writes a message in the transaction of what it speaks of, and queues its delivery with it. `data` is frozen. @returns its id */
export async function notify(
  tx: Transaction,
  now: Date,
  { id = newId(), ...notice }: { id?: string; personId: string; occasion: Occasion; data: object; documentId?: string },
): Promise<string> {
  await insertNotice(tx, { id, ...notice, messageId: `<${id}@wareboard>`, createdAt: now });
  writtenIn.set(tx, [...noticesWrittenIn(tx), id]);
  return id;
}

const writtenIn = new WeakMap<Transaction, string[]>();

/** The messages that were written in this transaction, in their order: their ids. */
export const noticesWrittenIn = (tx: Transaction): readonly string[] => writtenIn.get(tx) ?? [];

const IN_LIST = {
  person: { include: WITH_GUARDIANS },
  document: { select: { fileName: true } },
  deliveries: { orderBy: { id: 'asc' } },
} as const satisfies Prisma.NoticeInclude;
type Row = Prisma.NoticeGetPayload<{ include: typeof IN_LIST }>;

export async function listNotices(tx: Transaction, query: NoticeQuery) {
  const { ids, ...found } = await findNotices(tx, query, await momentsOf(tx, query));
  const rows = await tx.notice.findMany({ where: { id: { in: ids } }, include: IN_LIST });
  return { items: inOrder(ids, rows).map(show), ...found };
}

/** A message with its words. */
export async function getNotice(tx: Transaction, id: string): Promise<NoticeInFull> {
  const row = await tx.notice.findUnique({ where: { id }, include: IN_LIST });
  if (!row) throw new Problem('not-found', 'This letter does not exist. Look for it under Letters.');
  return { ...show(row), ...letterOf(await getStudio(tx), { ...row, person: recipientOf(row.person) }) };
}

function show(row: Row): Notice {
  const { id, personId, occasion, documentId, document, person, state, deliveries } = row;
  return {
    ...{ id, personId, occasion, documentId, state },
    fileName: document?.fileName ?? null,
    ...{ personName: person.name, email: recipientOf(person).email },
    createdAt: row.createdAt.toISOString(),
    deliveries: deliveries.map((d) => ({ at: d.at.toISOString(), outcome: d.outcome, detail: d.detail })),
  };
}

export async function getDocumentInfo(tx: Transaction, id: string): Promise<DocumentInfo> {
  const row = await tx.document.findUnique({ where: { id }, include: { rendering: { select: { sha256: true } } } });
  if (!row) throw new Problem('not-found', 'No document has this id. Receipts and notices name theirs.');
  const { kind, fileName, createdAt, rendering } = row;
  return { id, kind, fileName, createdAt: createdAt.toISOString(), sha256: rendering?.sha256 ?? null };
}

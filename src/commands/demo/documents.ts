import { mkdir, readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Post } from '../../mail/post.js';
import { getRendered } from '../../studio/notices/rendering.js';
import type { WrittenPaper } from './report/documents.js';

/** Writes the papers of letters that went out from here, and the orders, into a folder, each under its own name; letters of the past went out long ago. */
export async function writePapers(
  post: Pick<Post, 'db' | 'now' | 'renderer'>,
  folder: string,
): Promise<WrittenPaper[]> {
  const { db } = post;
  await mkdir(folder, { recursive: true });
  const documents = await db.document.findMany({
    where: { OR: [{ notices: { some: { deliveries: { none: { outcome: 'sent' } } } } }, { kind: 'order' }] },
    orderBy: { id: 'asc' },
    include: { notices: { include: { person: true }, take: 1 } },
  });
  const placed = await db.supplyOrderEvent.findMany({
    where: { kind: 'placed' },
    select: { documentId: true, order: { select: { supplier: { select: { name: true } } } } },
  });
  const orderedOf = new Map(placed.map(({ documentId, order }) => [documentId, order.supplier.name]));
  const written: WrittenPaper[] = [];
  for (const { id, kind, fileName, notices } of documents) {
    const { pdf } = await getRendered(post, id);
    await writeFile(join(folder, fileName), pdf);
    written.push({ fileName, kind, about: notices[0]?.person.name ?? orderedOf.get(id) ?? '' });
  }
  return written.sort((a, b) => a.fileName.localeCompare(b.fileName));
}

export async function countLetters(folder: string): Promise<number> {
  return (await readdir(folder)).filter((name) => name.endsWith('.eml')).length;
}

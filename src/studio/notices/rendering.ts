import { createHash } from 'node:crypto';
import { type Database, inSnapshot, inTransaction } from '../../database/transaction.js';
import { inThisThread, type Renderer } from '../../documents/renderer.js';
import { Problem } from '../../problems.js';
import { getLogoOf } from '../settings/logo.js';

/**
 * A paper as PDF. It is rendered once, outside any transaction; whoever renders first decides, and everybody is shown that.
 *
 * @throws Problem not-found, papers-busy
 */
export async function getRendered(
  { db, now, renderer = inThisThread }: { db: Database; now: () => Date; renderer?: Renderer },
  documentId: string,
): Promise<{ fileName: string; pdf: Uint8Array; sha256: string }> {
  const { document, logo } = await inSnapshot(db, async (tx) => {
    const document = await tx.document.findUnique({ where: { id: documentId }, include: { rendering: true } });
    return { document, logo: document && !document.rendering ? await getLogoOf(tx, document.content) : null };
  });
  if (!document) throw new Problem('not-found', 'No document has this id. Receipts and notices name theirs.');
  const { fileName, kind, content } = document;
  if (document.rendering) return { fileName, pdf: document.rendering.pdf, sha256: document.rendering.sha256 };

  const bytes = await renderer.render(kind, content, logo);
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  const first = await inTransaction(db, async (tx) => {
    await tx.rendering.createMany({
      data: [{ documentId, sha256, pdf: new Uint8Array(bytes), createdAt: now() }],
      skipDuplicates: true,
    });
    return tx.rendering.findUniqueOrThrow({ where: { documentId } });
  });
  return { fileName, pdf: first.pdf, sha256: first.sha256 };
}

import { renderBatchSheet } from './batch-sheet.js';
import { renderBucketLabels } from './bucket-labels.js';
import { renderCollectionNotice } from './collection-notice.js';
import type { PaperKind } from './contents.js';
import { renderCreditNote } from './credit-note.js';
import { renderOrder } from './order.js';
import { renderReceipt } from './receipt.js';
import { renderVoucher } from './voucher.js';

type Logo = Uint8Array | null;

const RENDERERS = {
  receipt: renderReceipt,
  creditNote: renderCreditNote,
  collectionNotice: renderCollectionNotice,
  voucher: renderVoucher,
  order: renderOrder,
  batchSheet: renderBatchSheet,
  bucketLabels: renderBucketLabels,
} as const satisfies Record<PaperKind, unknown>;

/**
 * Draws a paper from its content, in this thread.
 *
 * @param logo the one that it names, or null where it names none
 * @throws ZodError where the content is not that of its kind, RangeError where it names another logo
 */
export function render(kind: PaperKind, content: unknown, logo: Logo): Promise<Buffer> {
  const draw = RENDERERS[kind] as (unchecked: unknown, logo: Logo) => Promise<Buffer>; // each checks what it is given
  return draw(content, logo);
}

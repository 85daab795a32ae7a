import { BatchSheetContent } from './batch-sheet-content.js';
import { BucketLabelsContent } from './bucket-labels-content.js';
import { CollectionContent } from './collection-content.js';
import { CreditNoteContent } from './credit-note-content.js';
import { OrderContent } from './order-content.js';
import { ReceiptContent } from './receipt-content.js';
import { VoucherContent } from './voucher-content.js';

/** What each paper says; apart from how it is drawn, so that whoever only freezes papers needs no pdfkit. */
const CONTENTS = {
  receipt: ReceiptContent,
  creditNote: CreditNoteContent,
  collectionNotice: CollectionContent,
  voucher: VoucherContent,
  order: OrderContent,
  batchSheet: BatchSheetContent,
  bucketLabels: BucketLabelsContent,
} as const;

export type PaperKind = keyof typeof CONTENTS;

/** Refuses to freeze what could not be drawn later. @throws ZodError that names what contradicts itself */
export function checkContent(kind: PaperKind, content: unknown): void {
  CONTENTS[kind].parse(content);
}

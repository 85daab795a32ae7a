import { CollectionContent } from './collection-content.js';
import { renderCollectionNotice } from './collection-notice.js';
import { renderCreditNote } from './credit-note.js';
import { CreditNoteContent } from './credit-note-content.js';
import { renderOrder } from './order.js';
import { OrderContent } from './order-content.js';
import { renderReceipt } from './receipt.js';
import { ReceiptContent } from './receipt-content.js';
import { renderVoucher } from './voucher.js';
import { VoucherContent } from './voucher-content.js';

const CONTENTS = {
  receipt: ReceiptContent,
  creditNote: CreditNoteContent,
  collectionNotice: CollectionContent,
  voucher: VoucherContent,
  order: OrderContent,
} as const;
type Kind = keyof typeof CONTENTS;

/** Refuses to freeze what could not be drawn later. @throws ZodError that names what contradicts itself */
export function checkContent(kind: Kind, content: unknown): void {
  CONTENTS[kind].parse(content);
}

/**
 * Draws a paper from its frozen content.
 *
 * @param logo the one that it names, or null where it names none
 * @throws ZodError where the content is not that of its kind, RangeError where it names another logo
 */
export function render(kind: Kind, content: unknown, logo: Uint8Array | null): Promise<Buffer> {
  switch (kind) {
    case 'receipt':
      return renderReceipt(ReceiptContent.parse(content), logo);
    case 'creditNote':
      return renderCreditNote(CreditNoteContent.parse(content), logo);
    case 'collectionNotice':
      return renderCollectionNotice(CollectionContent.parse(content), logo);
    case 'voucher':
      return renderVoucher(VoucherContent.parse(content), logo);
    case 'order':
      return renderOrder(OrderContent.parse(content), logo);
  }
}

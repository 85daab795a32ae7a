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

/** Draws a paper from its frozen content. @throws ZodError where the content is not that of its kind */
export function render(kind: Kind, content: unknown): Promise<Buffer> {
  switch (kind) {
    case 'receipt':
      return renderReceipt(ReceiptContent.parse(content));
    case 'creditNote':
      return renderCreditNote(CreditNoteContent.parse(content));
    case 'collectionNotice':
      return renderCollectionNotice(CollectionContent.parse(content));
    case 'voucher':
      return renderVoucher(VoucherContent.parse(content));
    case 'order':
      return renderOrder(OrderContent.parse(content));
  }
}

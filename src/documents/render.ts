import { CollectionContent } from './collection-content.js';
import { renderCollectionNotice } from './collection-notice.js';
import { renderCreditNote } from './credit-note.js';
import { CreditNoteContent } from './credit-note-content.js';
import { renderReceipt } from './receipt.js';
import { ReceiptContent } from './receipt-content.js';

/** Each kind of paper: what it holds, and how it is drawn. */
const PAPERS = {
  receipt: (content: unknown) => renderReceipt(ReceiptContent.parse(content)),
  creditNote: (content: unknown) => renderCreditNote(CreditNoteContent.parse(content)),
  collectionNotice: (content: unknown) => renderCollectionNotice(CollectionContent.parse(content)),
} as const;

/** Draws a paper from its frozen content. @throws ZodError where the content is not that of its kind */
export function render(kind: keyof typeof PAPERS, content: unknown): Promise<Buffer> {
  return PAPERS[kind](content);
}

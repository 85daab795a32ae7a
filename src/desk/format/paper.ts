import type { Schemas } from '../api/client';

export type Paper = Schemas['Paper'];

export const PAPER_KINDS: Record<Paper['kind'], string> = {
  receipt: 'Receipts',
  creditNote: 'Credit notes',
  voucher: 'Vouchers',
  collectionNotice: 'Collection notices',
  order: 'Orders',
};

const ONE: Record<Paper['kind'], string> = {
  receipt: 'Receipt',
  creditNote: 'Credit note',
  voucher: 'Voucher',
  collectionNotice: 'Collection notice',
  order: 'Order',
};

/** "Receipt R-000012", as it is printed on it. */
export const paperCalled = ({ kind, number }: Pick<Paper, 'kind' | 'number'>): string =>
  number === null ? ONE[kind] : `${ONE[kind]} ${number}`;

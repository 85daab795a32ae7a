import { z } from 'zod';
import { Id } from '../../http/types.js';

export const OCCASIONS = [
  'booking',
  'placeConfirmed',
  'holdLapsed',
  'bookingCancelled',
  'placeFilled',
  'receipt',
  'refund',
  'collection',
  'voucher',
  'reminder',
] as const;
export type Occasion = (typeof OCCASIONS)[number];

const Delivery = z.object({
  at: z.iso.datetime(),
  outcome: z.enum(['sent', 'written', 'failed', 'noAddress']),
  detail: z.string(),
});

export const Notice = z
  .object({
    id: Id,
    personId: Id,
    personName: z.string(),
    occasion: z.enum(OCCASIONS),
    documentId: Id.nullable(),
    createdAt: z.iso.datetime(),
    state: z.enum(['waiting', 'sent', 'written', 'failed', 'noAddress']),
    deliveries: z.array(Delivery),
  })
  .meta({ id: 'Notice' });
export type Notice = z.output<typeof Notice>;

export const DocumentInfo = z
  .object({
    id: Id,
    kind: z.enum(['receipt', 'creditNote', 'collectionNotice', 'voucher', 'order']),
    fileName: z.string(),
    createdAt: z.iso.datetime(),
    sha256: z.string().nullable().meta({ description: 'Of the first rendering; null until it was rendered.' }),
  })
  .meta({ id: 'DocumentInfo' });
export type DocumentInfo = z.output<typeof DocumentInfo>;

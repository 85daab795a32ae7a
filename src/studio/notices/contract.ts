import { z } from 'zod';
import { Days, ListQuery } from '../../http/paging.js';
import { Id } from '../../http/types.js';

export const OCCASIONS = [
  'booking',
  'placeConfirmed',
  'holdLapsed',
  'bookingCancelled',
  'placeCancelled',
  'placeFilled',
  'placeOffered',
  'offerLapsed',
  'receipt',
  'refund',
  'collection',
  'voucher',
  'reminder',
  'paymentReversed',
  'sessionMoved',
  'courseCancelled',
  'bookingMoved',
  'sessionCancelled',
  'sessionAdded',
  'makeUp',
  'makeUpEnded',
  'membershipStarted',
  'membershipCharged',
  'membershipFee',
  'membershipPaused',
  'membershipEnds',
  'membershipGoesOn',
  'dayBefore',
] as const;
export type Occasion = (typeof OCCASIONS)[number];

const NOTICE_STATES = ['waiting', 'sent', 'written', 'failed', 'noAddress'] as const;

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
    email: z.string().nullable().meta({ description: 'The address that is known of the person now.' }),
    occasion: z.enum(OCCASIONS),
    documentId: Id.nullable(),
    fileName: z.string().nullable().meta({ description: 'Of its paper, where it has one.' }),
    createdAt: z.iso.datetime(),
    state: z.enum(NOTICE_STATES),
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

export const NoticeInFull = Notice.extend({
  subject: z.string(),
  text: z.string().meta({
    description:
      'As it is sent: what it tells was frozen when it was written, the name and the signature are those of now.',
  }),
}).meta({ id: 'NoticeInFull' });
export type NoticeInFull = z.output<typeof NoticeInFull>;

export const NoticeQuery = ListQuery.extend({
  q: ListQuery.shape.q.meta({ description: 'Words of the recipient’s name, email address or phone number.' }),
  ...Days,
  personId: Id.optional(),
  occasion: z.enum(OCCASIONS).optional(),
  state: z.enum(NOTICE_STATES).optional(),
  order: z.enum(['oldest', 'newest']).default('oldest'),
}).meta({ description: 'From and to are of the day on which it was written.' });
export type NoticeQuery = z.output<typeof NoticeQuery>;

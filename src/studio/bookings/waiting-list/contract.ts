import { z } from 'zod';
import { Id, SingleLine } from '../../../http/types.js';
import { Moment } from '../../courses/contract.js';
import { Booking } from '../contract.js';

export const NewWaitingEntry = z
  .strictObject({
    personId: Id,
    places: z.int().min(1).max(20).default(1).meta({ description: 'How many they would like, all at once.' }),
    note: SingleLine(200).nullable().default(null).meta({ description: 'For the studio; no letter says it.' }),
  })
  .meta({ id: 'NewWaitingEntry' });
export type NewWaitingEntry = z.output<typeof NewWaitingEntry>;

export const WaitingEntry = z
  .object({
    id: Id,
    courseId: Id,
    personId: Id,
    personName: z.string(),
    places: z.int(),
    note: z.string().nullable(),
    since: z.iso.datetime(),
    offeredAt: z.iso.datetime().nullable(),
    offeredUntil: z.iso.datetime().nullable().meta({ description: 'Until when the places are kept for them.' }),
    endedAt: z.iso.datetime().nullable(),
    ended: z
      .enum(['booked', 'declined', 'lapsed', 'removed', 'courseCancelled'])
      .nullable()
      .meta({ description: 'Why they wait no more; null while they do.' }),
    bookingId: Id.nullable(),
  })
  .meta({ id: 'WaitingEntry' });
export type WaitingEntry = z.output<typeof WaitingEntry>;

export const WaitingList = z
  .object({
    courseId: Id,
    placesLeft: z.int().meta({ description: 'Neither booked, held nor offered.' }),
    waiting: z.array(WaitingEntry).meta({ description: 'Who waits or has an offer, in the order in which they came.' }),
    ended: z.array(WaitingEntry).meta({ description: 'Who waited before, the latest first.' }),
    nextId: Id.nullable().meta({ description: 'The first for whom enough places are left.' }),
  })
  .meta({ id: 'WaitingList' });
export type WaitingList = z.output<typeof WaitingList>;

export const NewOffer = z
  .strictObject({
    until: Moment.optional().meta({
      description: "Until when; as long as the course's places are held, if left out.",
    }),
  })
  .meta({ id: 'NewOffer' });
export type NewOffer = z.output<typeof NewOffer>;

export const Removal = z
  .object({
    entry: WaitingEntry,
    offered: WaitingEntry.nullable().meta({ description: 'To whom the places are offered instead.' }),
  })
  .meta({ id: 'WaitingListRemoval' });
export type Removal = z.output<typeof Removal>;

export const Acceptance = z.object({ entry: WaitingEntry, booking: Booking }).meta({ id: 'OfferAcceptance' });
export type Acceptance = z.output<typeof Acceptance>;

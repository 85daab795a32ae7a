import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { ListQuery } from '../../http/paging.js';
import { Id, Instant, LocalDate, Minor, SumMinor, Text } from '../../http/types.js';
import { RefundMethod } from '../accounts/contract.js';
import { FeeMinor } from './kind-contract.js';

const State = z.enum(['coming', 'current', 'paused', 'noticeGiven', 'ended', 'withdrawn']);

export const NewMembership = z
  .strictObject({
    kindId: Id,
    startsOn: LocalDate,
    chargedFrom: LocalDate.optional().meta({
      description:
        'Where what is before was charged elsewhere: the first day that is charged here. The first day, if left out.',
    }),
    feeMinor: FeeMinor.optional().meta({ description: 'Where another fee is agreed than the kind’s.' }),
    boardId: Id.nullable().default(null).meta({ description: 'The shelf that they have.' }),
  })
  .meta({ id: 'NewMembership' });
export type NewMembership = z.output<typeof NewMembership>;

const Included = z.object({
  benchMinutes: z.int(),
  firingLitres: z.string(),
  clay: z.object({ materialId: Id, name: z.string(), grams: z.int() }).nullable(),
  shelf: z.boolean(),
});

export const Membership = z
  .object({
    id: Id,
    personId: Id,
    personName: z.string(),
    kindId: Id,
    kindName: z.string(),
    state: State,
    startsOn: LocalDate,
    endsOn: LocalDate.nullable().meta({ description: 'The last day, once notice is given.' }),
    feeMinor: Minor.meta({ description: 'What is agreed for this month, VAT included; for the first, before it.' }),
    pausedUntil: LocalDate.nullable().meta({ description: 'The last day of the pause, where it is paused today.' }),
    lastMonth: z
      .object({ month: LocalDate, amountMinor: Minor, chargeId: Id.nullable() })
      .nullable()
      .meta({ description: 'What was charged last.' }),
    owedMinor: SumMinor.meta({ description: 'Of what was charged for the membership.' }),
    shelf: z.object({ boardId: Id, name: z.string() }).nullable(),
    included: Included.meta({ description: 'Each month.' }),
  })
  .meta({ id: 'Membership' });
export type Membership = z.output<typeof Membership>;

const Month = z.object({
  month: LocalDate,
  feeMinor: Minor,
  monthDays: z.int(),
  fullDays: z.int(),
  pausedDays: z.int(),
  pausePercent: z.string(),
  amountMinor: Minor.meta({
    description: 'fee × (full days + paused days × percent ÷ 100) ÷ days of the month, rounded.',
  }),
  chargedOn: LocalDate,
  chargeId: Id.nullable().meta({ description: 'Null where it came to nothing.' }),
  creditedMinor: Minor.meta({ description: 'Taken off since, as it was paused or ended after it was charged.' }),
  owedMinor: Minor,
});

export const MembershipInFull = Membership.extend({
  chargedFrom: LocalDate,
  taxName: z.string(),
  noticeMonths: z.int().nullable(),
  noticeDays: z.int().nullable(),
  lastDayIfToday: LocalDate.meta({ description: 'The last day, if notice were given today.' }),
  pausePercent: z.string(),
  fees: z.array(z.object({ fromMonth: LocalDate, feeMinor: Minor })),
  pauses: z.array(z.object({ id: Id, from: LocalDate, to: LocalDate })),
  months: z.array(Month).meta({ description: 'The latest first.' }),
  next: z
    .object({ month: LocalDate, on: LocalDate, amountMinor: Minor })
    .nullable()
    .meta({ description: 'What is charged next, and when; null where nothing is.' }),
  events: z
    .array(z.object({ at: Instant, by: z.string(), what: z.string() }))
    .meta({ description: 'The latest first.' }),
}).meta({ id: 'MembershipInFull' });
export type MembershipInFull = z.output<typeof MembershipInFull>;

const Method = RefundMethod.optional().meta({
  description: 'How a refund is paid, where what was paid is more than is owed now.',
});

export const NewPause = z
  .strictObject({
    from: LocalDate,
    to: LocalDate.meta({ description: 'The last day of the pause.' }),
    method: Method,
  })
  .refine(({ from, to }) => from <= to, { path: ['to'], error: 'must not be before the first day' })
  .meta({ id: 'NewMembershipPause' });
export type NewPause = z.output<typeof NewPause>;

export const ShorterPause = z
  .strictObject({
    to: LocalDate.nullable().meta({ description: 'Its new last day; null: there is to be no pause at all.' }),
  })
  .meta({ id: 'ShorterMembershipPause' });
export type ShorterPause = z.output<typeof ShorterPause>;

export const NewNotice = z
  .strictObject({
    lastDay: LocalDate.optional().meta({ description: 'What the terms say, if left out.' }),
    reason: PrintedLine(200).nullable().default(null).meta({
      description: 'Why it ends; needed where that is sooner than the terms say.',
    }),
    method: Method,
  })
  .meta({ id: 'NewMembershipNotice' });
export type NewNotice = z.output<typeof NewNotice>;

export const NewShelf = z.strictObject({ boardId: Id.nullable() }).meta({ id: 'NewMembershipShelf' });

export const Withdrawal = z.strictObject({ reason: Text(200).min(1) }).meta({ id: 'NewMembershipWithdrawal' });

export const MembershipChanged = z
  .object({
    membership: MembershipInFull,
    creditedMinor: Minor.meta({ description: 'Taken off what was charged for months that had begun.' }),
    refundMinor: Minor.meta({ description: 'Of that, what was paid and goes back.' }),
  })
  .meta({ id: 'MembershipChanged' });
export type MembershipChanged = z.output<typeof MembershipChanged>;

export const MembershipQuery = ListQuery.extend({
  q: ListQuery.shape.q.meta({ description: 'Words of the member’s name, email address or phone number.' }),
  personId: Id.optional(),
  kindId: Id.optional(),
  which: z.enum(['open', 'ended', 'all']).default('open').meta({
    description: 'Those that have not ended, or that have; a withdrawn one has.',
  }),
});
export type MembershipQuery = z.output<typeof MembershipQuery>;

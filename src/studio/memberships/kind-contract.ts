import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { DecimalText, Id, LocalDate, Minor, Percent } from '../../http/types.js';

/** A month has at most so many. */
const MINUTES_MAX = 31 * 24 * 60;
const decimals = (most: number) => (d: string) => (d.split('.')[1]?.length ?? 0) <= most;

export const FeeMinor = Minor.min(1).max(10_000_000).meta({ description: 'For a month, VAT included.' });

const TERMS = {
  name: PrintedLine(80),
  taxRateId: Id,
  noticeMonths: z.int().min(0).max(24).nullable().meta({ description: 'Null where notice is in days.' }),
  noticeDays: z.int().min(0).max(366).nullable().meta({ description: 'Null where notice is in months.' }),
  feeNoticeDays: z
    .int()
    .min(0)
    .max(366)
    .meta({ description: 'How long before they pay it members hear of a new fee.' }),
  pausePercent: Percent.refine(decimals(3), 'must have at most 3 decimals').meta({
    description: 'Of the fee, what is asked for each day of a pause; 0: nothing.',
  }),
  benchMinutes: z.int().min(0).max(MINUTES_MAX).meta({ description: 'At a bench of open studio, each month.' }),
  firingLitres: DecimalText.refine(
    (litres) => Number(litres) <= 100_000 && decimals(2)(litres),
    'must be at most 100000, with up to 2 decimals',
  ).meta({ description: 'Of room in the kiln, each month.' }),
  clayId: Id.nullable(),
  clayGrams: z.int().min(0).max(1_000_000).meta({ description: 'Of that clay, each month; 0 without one.' }),
  hasShelf: z.boolean(),
  writesLetters: z.boolean().meta({ description: 'Whether members get a letter each time the fee is charged.' }),
};

type Terms = { noticeMonths: number | null; noticeDays: number | null; clayId: string | null; clayGrams: number };
const oneNotice = ({ noticeMonths, noticeDays }: Terms) => (noticeMonths === null) !== (noticeDays === null);
const clayTogether = ({ clayId, clayGrams }: Terms) => (clayId === null) === (clayGrams === 0);
const NOTICE_FAULT = { path: ['noticeDays'], error: 'is given either in months or in days' };
const CLAY_FAULT = { path: ['clayGrams'], error: 'needs a clay, and a clay needs how much of it' };

export const ChangedMembershipKind = z
  .strictObject(TERMS)
  .refine(oneNotice, NOTICE_FAULT)
  .refine(clayTogether, CLAY_FAULT)
  .meta({ id: 'ChangedMembershipKind', description: 'Members keep what they agreed: it holds for new ones.' });
export type ChangedMembershipKind = z.output<typeof ChangedMembershipKind>;

export const NewMembershipKind = z
  .strictObject({ ...TERMS, feeMinor: FeeMinor })
  .refine(oneNotice, NOTICE_FAULT)
  .refine(clayTogether, CLAY_FAULT)
  .meta({ id: 'NewMembershipKind', description: 'What is included is for each month, and not carried over.' });
export type NewMembershipKind = z.output<typeof NewMembershipKind>;

export const MembershipKind = z
  .object({
    id: Id,
    ...TERMS,
    pausePercent: z.string(),
    firingLitres: z.string(),
    clayName: z.string().nullable(),
    taxName: z.string(),
    fees: z
      .array(z.object({ validFrom: LocalDate, feeMinor: Minor }))
      .meta({ description: 'What new members pay from a day on, the earliest first.' }),
  })
  .meta({ id: 'MembershipKind' });
export type MembershipKind = z.output<typeof MembershipKind>;

export const ListedMembershipKind = MembershipKind.extend({
  feeMinor: Minor.meta({ description: 'What somebody who joins today pays.' }),
  members: z.int().meta({ description: 'How many have a membership of this kind that has not ended.' }),
}).meta({ id: 'ListedMembershipKind' });
export type ListedMembershipKind = z.output<typeof ListedMembershipKind>;

export const NewMembershipFee = z
  .strictObject({
    feeMinor: FeeMinor,
    validFrom: LocalDate.meta({ description: 'Who joins from this day on pays it.' }),
    membersFrom: LocalDate.nullable().meta({
      description:
        'From which month, its first day, members pay it too: not sooner than they are to hear of it. Null: they keep theirs.',
    }),
  })
  .meta({ id: 'NewMembershipFee' });
export type NewMembershipFee = z.output<typeof NewMembershipFee>;

export const MembershipFeeChanged = z
  .object({ kind: ListedMembershipKind, told: z.int().meta({ description: 'How many members got a letter.' }) })
  .meta({ id: 'MembershipFeeChanged' });
export type MembershipFeeChanged = z.output<typeof MembershipFeeChanged>;

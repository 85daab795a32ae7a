import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { DecimalText, Id, Minor } from '../../http/types.js';
import { Decimal as Exact } from '../../trade/money/money.js';

// On what terms the places of a plan are sold. Each limit is also a CHECK of its table.

/** Above nothing, to two decimals: as many as are kept. */
const Exactly = (most: number) =>
  DecimalText.refine(
    (of) => Number(of) > 0 && Number(of) <= most && /^\d+(\.\d{1,2})?$/.test(of),
    `must be above 0 and at most ${most}, with up to 2 decimals`,
  );

export const PlanKind = z.enum(['course', 'private', 'openStudio']).meta({
  id: 'PlanKind',
  description:
    'course: places are sold one by one; private: one group, at a price for a number of people and a sum for each extra person; ' +
    'openStudio: a bench for one visit, which runs even if nobody comes.',
});
export type PlanKind = z.output<typeof PlanKind>;

/** In how many payments the balance of a place falls due, and how far apart; the last of them when the course says. */
export const BalancePayments = z.int().min(1).max(11).meta({
  description: 'In so many payments the balance is asked for, shared out evenly; the last when the balance is due.',
});
export const BalanceEveryDays = z.int().min(1).max(92).meta({
  description: 'Days from one payment of the balance to the next.',
});
export const PaymentsAt = z.int().min(1).max(12).meta({
  description: 'In so many payments, its deposit counted: in 1, all is its deposit. Left out: the usual terms.',
});

const SoldAtOther = z
  .strictObject({
    label: PrintedLine(60),
    sharePercent: Exactly(100).meta({ description: 'The part of the places that is expected to go at this price.' }),
    pricePercent: Exactly(100).default('100').meta({ description: 'Of the full price ...' }),
    lessMinor: Minor.default(0).meta({ description: '... and a sum less than that.' }),
    payments: PaymentsAt.nullable().default(null),
  })
  .meta({ id: 'PlanConcession' });

const PlanPart = z
  .strictObject({
    label: PrintedLine(60),
    taxRateId: Id,
    sharePercent: Exactly(99.99).nullable().default(null).meta({ description: 'So much of whatever is paid; or' }),
    amountMinor: Minor.min(1).nullable().default(null).meta({ description: 'a fixed gross sum of every place.' }),
  })
  .refine(({ sharePercent, amountMinor }) => (sharePercent === null) !== (amountMinor === null), {
    path: ['sharePercent'],
    error: 'give either a share or a sum',
  })
  .meta({
    id: 'PlanPart',
    description:
      'Parts of the price with a different VAT rate; the rest has that of the course. Both the price and each booking use it.',
  });

const distinct = (list: readonly { label: string }[]) => new Set(list.map(({ label }) => label)).size === list.length;
const sharesOf = (list: readonly { sharePercent: string | null }[]) =>
  list.reduce((sum, { sharePercent }) => sum.plus(sharePercent ?? 0), new Exact(0));

export const planTerms = {
  balancePayments: BalancePayments.default(1),
  balanceEveryDays: BalanceEveryDays.default(28),
  kind: PlanKind.default('course'),
  groupOf: z
    .int()
    .min(1)
    .max(200)
    .nullable()
    .default(null)
    .meta({ description: 'How many people the price of a private session includes.' }),
  firingIncludedLitres: Exactly(100_000).nullable().default(null).meta({
    description:
      'So much fired ware of each student is in the price, by its fired size with its gaps; null: all of it.',
  }),
  broughtLitres: Exactly(100_000).nullable().default(null).meta({
    description: 'Kiln room for ware that each student brings, in each firing of the plan; null: nothing is brought.',
  }),
  soldAt: z
    .array(SoldAtOther)
    .max(10)
    .default([])
    .refine(distinct, 'must not have a label twice')
    .refine((list) => sharesOf(list).lte(100), 'the shares must make at most 100; the rest pays the full price')
    .meta({ description: 'The prices below the full one; the rest of the places goes at the full one.' }),
  parts: z
    .array(PlanPart)
    .max(10)
    .default([])
    .refine((list) => sharesOf(list).lt(100), 'the shares must make less than 100'),
  restLabel: PrintedLine(60).nullable().default(null).meta({
    description: 'What the rest of the price is for, as receipts name it next to those parts: "materials".',
  }),
};

type Terms = {
  kind: PlanKind;
  payments: number;
  balancePayments: number;
  groupOf: number | null;
  places: number;
  minimum: number;
  sessions: unknown[];
  soldAt: unknown[];
  parts: { amountMinor: number | null }[];
};

/** What must hold between the terms of a plan, as [path, what is wrong]. */
export function faultsOf(of: Terms): [keyof Terms, string][] {
  const faults: [boolean, keyof Terms, string][] = [
    [of.minimum > of.places, 'minimum', 'must be at most the places'],
    [(of.groupOf !== null) !== (of.kind === 'private'), 'groupOf', 'is needed for a private session, and for no other'],
    [of.groupOf !== null && of.groupOf > of.places, 'groupOf', 'must be at most the places'],
    [
      (of.minimum === 0) !== (of.kind === 'openStudio'),
      'minimum',
      'must be 0 for open studio, which runs even if nobody comes, and at least 1 for all else',
    ],
    [
      of.balancePayments > 1 && ![0, 1].includes(of.payments - of.balancePayments),
      'payments',
      'must be those of the balance, and one more where there is a deposit',
    ],
    [of.kind === 'openStudio' && of.sessions.length !== 1, 'sessions', 'open studio is sold by the visit: give one'],
    [of.kind === 'private' && of.soldAt.length > 0, 'soldAt', 'a private session has one price for its group'],
    [
      of.kind === 'private' && of.parts.some(({ amountMinor }) => amountMinor !== null),
      'parts',
      'give shares: a sum of every place has no meaning in a price for a group',
    ],
  ];
  return faults.flatMap(([wrong, path, message]) => (wrong ? [[path, message] as [keyof Terms, string]] : []));
}

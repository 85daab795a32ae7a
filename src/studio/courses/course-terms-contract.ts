import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { NewCourse, Places, PRICE_MINOR_MAX } from './contract.js';
import { BalanceEveryDays, BalancePayments, PaymentsAt } from './plan-terms.js';
import { LaterPrice, Selling } from './selling.js';

const PriceMinor = z.int().min(1).max(PRICE_MINOR_MAX);
const { depositMinor, holdHours, balanceDueDays, perHeadAboveMinor } = NewCourse.shape;

const Concession = z
  .strictObject({
    label: PrintedLine(60),
    priceMinor: PriceMinor,
    atMost: Places.nullable(),
    payments: PaymentsAt.nullable(),
  })
  .meta({ id: 'ConcessionTerms' });

export const CourseTerms = z
  .strictObject({
    priceMinor: PriceMinor.meta({
      description: 'What is asked for today, gross: for one place, or for the group of a private session.',
    }),
    laterPrice: LaterPrice.nullable(),
    perHeadAboveMinor: perHeadAboveMinor.unwrap().nullable().meta({
      description: "In a private session: for each person above the plan's group; else null.",
    }),
    concessions: z
      .array(Concession)
      .max(10)
      .refine((list) => new Set(list.map(({ label }) => label)).size === list.length, 'must not have a label twice')
      .meta({
        description: 'All that are offered. One of the same label is changed; one left out is offered no more.',
      }),
    ...{ depositMinor, holdHours, balanceDueDays },
    balancePayments: BalancePayments,
    balanceEveryDays: BalanceEveryDays,
    ...Selling,
  })
  .meta({
    id: 'CourseTerms',
    description: 'On what terms places are sold from now on. What is booked keeps its own.',
  });
export type CourseTerms = z.output<typeof CourseTerms>;

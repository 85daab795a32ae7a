import { z } from 'zod';
import { Id, LocalDate } from '../../http/types.js';

const Need = z.object({
  courseId: Id,
  title: z.string(),
  mixes: z.array(z.string()).meta({
    description: 'Names of what must be mixed for it, out of this material; none: it draws the material itself.',
  }),
  day: LocalDate.meta({ description: 'The first day on which it still draws.' }),
  booked: z.int().meta({ description: 'What those booked will draw, less what the course drew already.' }),
  expected: z.int().meta({ description: 'What those expected in the end will draw, on average.' }),
});

const OutlookRow = z
  .object({
    day: LocalDate,
    leftIfBooked: z.int(),
    leftExpected: z.int(),
    leftAtWorst: z.int().meta({ description: 'It is worse than this with one chance in ten at most.' }),
    shortChance: z.string().meta({
      description: 'Of having run short on this day or before it, 0 to 1; where the item is `atMost`, an upper bound.',
    }),
    courseIds: z.array(Id).meta({ description: 'The courses that draw on this day.' }),
  })
  .meta({
    id: 'OutlookRow',
    description: 'The end of a day on which something is drawn; below zero: so much is missing.',
  });

export const OutlookItem = z
  .object({
    materialId: Id,
    name: z.string(),
    unit: z.enum(['g', 'ml', 'piece']),
    mixId: Id.nullable().meta({
      description:
        'By which it is mixed here; null: it is bought. What it says of packs and ordering is then said of batches.',
    }),
    packQuantity: z.int(),
    leadTimeDays: z.int(),
    onHand: z.int(),
    asksForCount: z.boolean(),
    onOrder: z
      .array(z.object({ orderId: Id, number: z.int(), expectedOn: LocalDate, quantity: z.int() }))
      .meta({ description: 'What was ordered and has not come. What is overdue is reckoned with from tomorrow on.' }),
    needs: z.array(Need),
    needAtWorst: z.int().meta({ description: 'All of them draw more than this with one chance in ten at most.' }),
    rows: z.array(OutlookRow),
    atMost: z.boolean().meta({
      description: 'So much lies across so many deliveries or ends of shelf life that every chance is an upper bound.',
    }),
    shortOn: z
      .object({ oneInTen: LocalDate.nullable(), oneInTwo: LocalDate.nullable(), sure: LocalDate.nullable() })
      .meta({
        description:
          'The first day by which there is that chance of having run short; sure: by bookings alone. Where chances are upper bounds (`atMost`), oneInTen is the first day by which there may be one, and oneInTwo is null.',
      }),
    packs: z.int().meta({
      description:
        'The fewest that bring the chance of running short under one in ten, if they are there the day before there is one.',
    }),
    spoils: z.array(z.object({ day: LocalDate, quantity: z.int() })).meta({
      description: 'What is not used by the last day of its shelf life, if as many come as expected.',
    }),
    orderBy: LocalDate.nullable().meta({
      description: 'The last day to order, so that it is there the day before the chance is one in ten.',
    }),
  })
  .meta({ id: 'OutlookItem' });
export type OutlookItem = z.output<typeof OutlookItem>;

import { z } from 'zod';
import { Id, LocalDate } from '../../http/types.js';

const Need = z.object({
  courseId: Id,
  title: z.string(),
  mixes: z.array(z.string()).meta({
    description: 'Names of what must be mixed for it, out of this material; none: it uses the material itself.',
  }),
  day: LocalDate.meta({ description: 'The first day on which it still uses some.' }),
  booked: z.int().meta({ description: 'What those booked will use, less what the course has used already.' }),
  expected: z.int().meta({ description: 'What those expected in the end will use, on average.' }),
});

const OutlookRow = z
  .object({
    day: LocalDate,
    leftIfBooked: z.int(),
    leftExpected: z.int(),
    leftAtWorst: z.int().meta({ description: 'There is at most 1 chance in 10 that less is left.' }),
    shortChance: z.string().meta({
      description: 'Of having run short on this day or before it, 0 to 1; where the item is `atMost`, an upper bound.',
    }),
    courseIds: z.array(Id).meta({ description: 'The courses that use some on this day.' }),
  })
  .meta({
    id: 'OutlookRow',
    description: 'The end of a day on which something is used; below zero: so much is missing.',
  });

export const OutlookItem = z
  .object({
    materialId: Id,
    name: z.string(),
    unit: z.enum(['g', 'ml', 'piece']),
    mixId: Id.nullable().meta({
      description: 'The mix that makes it here; null: it is bought. Packs and ordering then mean batches.',
    }),
    packQuantity: z.int(),
    leadTimeDays: z.int(),
    onHand: z.int(),
    asksForCount: z.boolean(),
    onOrder: z
      .array(z.object({ orderId: Id, number: z.int(), expectedOn: LocalDate, quantity: z.int() }))
      .meta({ description: 'What was ordered and has not come. What is overdue is expected from tomorrow on.' }),
    needs: z.array(Need),
    needAtWorst: z.int().meta({ description: 'There is at most 1 chance in 10 that they use more in all.' }),
    rows: z.array(OutlookRow),
    atMost: z.boolean().meta({
      description:
        'There are so many courses across so many deliveries or ends of shelf life that every chance is an upper bound.',
    }),
    shortOn: z
      .object({ oneInTen: LocalDate.nullable(), oneInTwo: LocalDate.nullable(), sure: LocalDate.nullable() })
      .meta({
        description:
          'The first day by which there is that chance of having run short; sure: by bookings alone. Where chances are upper bounds (`atMost`), oneInTen is the first day by which there may be one, and oneInTwo is null.',
      }),
    packs: z.int().meta({
      description:
        'The fewest that bring the chance of running short under 1 in 10, if they are there the day before there is one.',
    }),
    spoils: z.array(z.object({ day: LocalDate, quantity: z.int() })).meta({
      description: 'What is not used by the last day of its shelf life, if as many come as expected.',
    }),
    orderBy: LocalDate.nullable().meta({
      description: 'The last day to order if it should be there the day before the chance is 1 in 10.',
    }),
  })
  .meta({ id: 'OutlookItem' });
export type OutlookItem = z.output<typeof OutlookItem>;

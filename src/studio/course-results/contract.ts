import { z } from 'zod';
import { Id } from '../../http/types.js';

const Total = z
  .object({
    resultMinor: z.int().meta({ description: "Takings less costs and the owner's time at their wage." }),
    hours: z.string(),
    payPerHourMinor: z.int().nullable().meta({ description: 'What the owner got per hour; null without an hour.' }),
  })
  .meta({ id: 'AfterwardsTotal', description: 'Over the lines of which both sides are known.' });

const AfterwardsLine = z
  .object({
    key: z.string(),
    label: z.string(),
    side: z.enum(['takings', 'cost', 'own-time']),
    unit: z.string(),
    planned: z.object({ quantity: z.string(), amountMinor: z.int() }),
    real: z.object({ quantity: z.string(), amountMinor: z.int(), detail: z.string() }).nullable(),
    differenceMinor: z.int().nullable().meta({ description: 'Above zero: better than planned. Null: not known.' }),
    howToKnow: z.string().nullable().meta({ description: 'Where there is no actual figure: how to get one.' }),
  })
  .meta({ id: 'AfterwardsLine' });

const Breakages = z
  .object({
    made: z.int(),
    lost: z.int(),
    firedAgain: z.int(),
    plannedPercent: z.string().meta({ description: 'Lost of those made, by the remakes that the plan allowed for.' }),
    realPercent: z.string().nullable(),
    howToKnow: z.string().nullable(),
  })
  .meta({ id: 'Breakages', description: 'What they cost is in the clay, the glaze and the firings.' });

export const CourseResults = z
  .object({
    courseId: Id,
    title: z.string(),
    currency: z.string(),
    students: z
      .int()
      .meta({ description: 'Places taken, without cancelled ones; the plan is worked out for as many.' }),
    priceMinor: z.int(),
    plannedFrom: z.object({ quoteId: Id.nullable(), detail: z.string() }),
    lines: z.array(AfterwardsLine),
    wholePlanMinor: z.int().meta({ description: 'The planned result, with the lines that have no actual figure.' }),
    planned: Total,
    real: Total,
    differenceMinor: z.int(),
    because: z.array(z.object({ key: z.string(), label: z.string(), differenceMinor: z.int() })).meta({
      description: 'The greatest effect first; they add up to the difference.',
    }),
    unknown: z.array(z.string()).meta({ description: 'Keys of the lines that are in neither total.' }),
    stillOpen: z.array(z.string()).meta({ description: 'What may still change the actual side, in sentences.' }),
    breakages: Breakages,
    othersMinutes: z.int().meta({ description: 'Time noted of tutors, which is not the own time of the owner.' }),
  })
  .meta({
    id: 'Afterwards',
    description: 'What a course was planned to come to, and what it came to. Whole minor units.',
  });
export type CourseResults = z.output<typeof CourseResults>;

export const PlanProposal = z
  .object({
    key: z.string(),
    label: z.string(),
    unit: z.string(),
    planned: z.string(),
    mean: z.string().nullable(),
    low: z.string().nullable(),
    high: z.string().nullable(),
    courses: z.int().meta({ description: 'How many courses measured it.' }),
    proposed: z.string().meta({ description: "The courses' mean, with the plan's own figure counted as one course." }),
    detail: z.string(),
  })
  .meta({
    id: 'Proposal',
    description:
      'A figure of a plan against what its courses measured; the true mean is between low and high with 8 chances in 10.',
  });
export type PlanProposal = z.output<typeof PlanProposal>;

export const PlanProposals = z
  .object({ planId: Id, name: z.string(), courses: z.int(), proposals: z.array(PlanProposal) })
  .meta({ id: 'Proposals', description: 'What the next plan should assume. Nothing is changed by it.' });
export type PlanProposals = z.output<typeof PlanProposals>;

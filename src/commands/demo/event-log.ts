import { z } from 'zod';
import { NewHours } from '../../studio/course-results/hours-contract.js';
import { GLAZING_METHODS } from '../../trade/materials/manufacturer-statement.js';
import { VESSEL_SHAPES } from '../../trade/materials/vessel-shapes.js';

// What can happen in the diary of the invented studio. Everything is named by its name, as a person would.

const at = z.string().regex(/^\d{4}-\d\d-\d\d \d\d:\d\d$/, 'must be a day and a time such as "2026-02-24 08:00"');
const Money = z.enum(['cash', 'card', 'transfer']);
const Layer = z.object({
  ...{ material: z.string(), coats: z.int(), foodSurface: z.boolean() },
  way: z.enum(GLAZING_METHODS).default('brushed'),
});

/** A line of firings.csv; what has not happened yet is left empty. */
export const DemoFiring = z.object({
  ...{ at, kiln: z.string(), schedule: z.string(), from: z.string(), to: z.string() },
  ...{ labourMinutes: z.coerce.number(), start: at, end: z.string(), unload: at },
  ...{ meterBefore: z.string(), meterAfter: z.string(), broken: z.string(), refire: z.string() },
  ...{ bill: z.enum(['yes', '']), failedBecause: z.string() },
});
export type DemoFiring = z.output<typeof DemoFiring>;

export const DemoEvent = z.discriminatedUnion('did', [
  z.object({
    ...{ at, did: z.literal('book'), course: z.string(), payer: z.string(), attendees: z.array(z.string()) },
    concession: z.string().optional().meta({ description: 'By its label; all of them pay it.' }),
  }),
  z.object({
    at,
    did: z.literal('pay'),
    payer: z.string(),
    course: z.string().optional(),
    firing: z.boolean().default(false),
    amount: z.enum(['deposit', 'rest']),
    method: z.enum([...Money.options, 'voucher']),
    voucherOf: z.string().optional(),
  }),
  z.object({
    at,
    did: z.literal('voucher'),
    buyer: z.string(),
    amountMinor: z.int(),
    method: Money,
    forWhom: z.string(),
  }),
  z.object({
    at,
    did: z.literal('cancel'),
    course: z.string(),
    payer: z.string(),
    because: z.string(),
    method: Money,
  }),
  z.object({
    ...{ at, did: z.literal('joinMembers'), who: z.string(), kind: z.string(), shelf: z.string() },
    from: z.iso.date(),
  }),
  z.object({ at, did: z.literal('payMembership'), payer: z.string(), method: Money }),
  z.object({ at, did: z.literal('cancelCourse'), course: z.string(), because: z.string() }),
  z.object({
    ...{ at, did: z.literal('cancelSession'), course: z.string(), session: z.int(), because: z.string() },
    backMinor: z.int(),
  }),
  z.object({
    ...{ at, did: z.literal('moveSession'), course: z.string(), session: z.int(), because: z.string() },
    ...{ day: z.iso.date(), from: z.string(), until: z.string() },
  }),
  z.object({
    at,
    did: z.literal('delivery'),
    material: z.string(),
    supplier: z.string(),
    quantity: z.int(),
    costMinor: z.int(),
  }),
  z.object({
    ...{ at, did: z.literal('order'), called: z.string(), supplier: z.string(), note: z.string().nullable() },
    lines: z.array(z.object({ material: z.string(), packQuantity: z.int(), packs: z.int() })),
  }),
  z.object({
    ...{ at, did: z.literal('receive'), order: z.string(), carriageMinor: z.int() },
    lots: z.array(z.object({ material: z.string(), quantity: z.int(), costMinor: z.int() })),
  }),
  z.object({
    ...{ at, did: z.literal('hours'), course: z.string(), what: NewHours.shape.what, minutes: z.int() },
    note: z.string(),
  }),
  z.object({ at, did: z.literal('price'), course: z.string() }),
  z.object({
    at,
    did: z.literal('draw'),
    course: z.string(),
    material: z.string(),
    quantity: z.int(),
    note: z.string(),
  }),
  z.object({
    at,
    did: z.literal('reclaim'),
    course: z.string(),
    material: z.string(),
    quantity: z.int(),
    note: z.string(),
  }),
  z.object({ at, did: z.literal('waste'), material: z.string(), quantity: z.int(), note: z.string() }),
  z.object({
    ...{ at, did: z.literal('takeHome'), who: z.string(), material: z.string(), quantity: z.int(), note: z.string() },
    paysBy: Money.optional(),
  }),
  z.object({
    ...{ at, did: z.literal('bringBack'), who: z.string(), material: z.string(), quantity: z.int() },
    ...{ because: z.string(), method: Money },
  }),
  z.object({ at, did: z.literal('count'), material: z.string(), quantity: z.int(), note: z.string() }),
  z.object({
    at,
    did: z.literal('intake'),
    maker: z.string(),
    course: z.string().nullable(),
    paidBy: z.enum(['course', 'maker']),
    board: z.string(),
    stage: z.enum(['greenware', 'dry', 'bisque', 'glazed']),
    ware: z.array(z.looseObject({ form: z.enum(VESSEL_SHAPES), clay: z.string() })),
  }),
  z.object({ at, did: z.literal('note'), board: z.string(), stage: z.enum(['dry', 'ready', 'collected']) }),
  z.object({
    at,
    did: z.literal('glaze'),
    board: z.string(),
    forms: z.array(z.enum(VESSEL_SHAPES)),
    layers: z.array(Layer),
  }),
  z.object({ at, did: z.literal('fire'), firing: DemoFiring }),
  z.object({ at, did: z.literal('unload'), firing: DemoFiring }),
  z.object({ at, did: z.literal('collect'), maker: z.string(), paysBy: Money }),
  z.object({ at, did: z.literal('complete'), course: z.string() }),
  z.object({ at, did: z.literal('announce') }),
]);
export type DemoEvent = z.output<typeof DemoEvent>;
export type DemoEventOf<D extends DemoEvent['did']> = Extract<DemoEvent, { did: D }>;

export const EventLog = z
  .array(DemoEvent)
  .refine(
    (entries) => entries.every((e, i) => i === 0 || (entries[i - 1]?.at ?? '') <= e.at),
    'must be in order of time',
  );

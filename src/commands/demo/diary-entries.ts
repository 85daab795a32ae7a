import { z } from 'zod';
import { FORMS } from '../../trade/forms.js';

// What can happen in the diary of the invented studio. Everything is named by its name, as a person would.

const at = z.string().regex(/^\d{4}-\d\d-\d\d \d\d:\d\d$/, 'must be a day and a time such as "2026-02-24 08:00"');
const Method = z.enum(['cash', 'card', 'transfer']);
const Layer = z.object({ material: z.string(), coats: z.int(), foodSurface: z.boolean() });

export const Entry = z.discriminatedUnion('did', [
  z.object({ at, did: z.literal('book'), course: z.string(), payer: z.string(), attendees: z.array(z.string()) }),
  z.object({
    at,
    did: z.literal('pay'),
    payer: z.string(),
    course: z.string().optional(),
    firing: z.boolean().default(false),
    amount: z.enum(['deposit', 'rest']),
    method: Method,
  }),
  z.object({
    at,
    did: z.literal('cancel'),
    course: z.string(),
    payer: z.string(),
    because: z.string(),
    method: Method,
  }),
  z.object({ at, did: z.literal('draw'), course: z.string(), material: z.string(), quantity: z.int() }),
  z.object({
    at,
    did: z.literal('intake'),
    maker: z.string(),
    course: z.string().nullable(),
    paidBy: z.enum(['course', 'maker']),
    board: z.string(),
    stage: z.enum(['greenware', 'dry', 'bisque', 'glazed']),
    ware: z.array(z.looseObject({ form: z.enum(FORMS) })),
  }),
  z.object({ at, did: z.literal('note'), board: z.string(), stage: z.enum(['dry', 'ready', 'collected']) }),
  z.object({ at, did: z.literal('glaze'), board: z.string(), forms: z.array(z.enum(FORMS)), layers: z.array(Layer) }),
  z.object({
    at,
    did: z.literal('fire'),
    kiln: z.string(),
    schedule: z.string(),
    boards: z.array(z.string()),
    to: z.string(),
    labourMinutes: z.int(),
    ...{ start: at, end: at, unload: at },
    meter: z.object({ before: z.string(), after: z.string() }).optional(),
    broken: z.array(z.string()).default([]),
    bill: z.boolean().default(false),
  }),
  z.object({ at, did: z.literal('complete'), course: z.string() }),
  z.object({ at, did: z.literal('announce') }),
]);
export type Entry = z.output<typeof Entry>;
export type EntryOf<D extends Entry['did']> = Extract<Entry, { did: D }>;

export const Diary = z
  .array(Entry)
  .refine(
    (entries) => entries.every((e, i) => i === 0 || (entries[i - 1]?.at ?? '') <= e.at),
    'must be in order of time',
  );

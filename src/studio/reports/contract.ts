import { z } from 'zod';
import { Id, LocalDate, SumMinor } from '../../http/types.js';
import { VESSEL_SHAPES } from '../../trade/materials/vessel-shapes.js';
import { RefundDue } from '../bookings/contract.js';
import { Purpose } from '../courses/contract.js';
import { FiringKind } from '../kilns/contract.js';
import { Notice } from '../notices/contract.js';

const instant = z.iso.datetime();

/** As many pieces of one board as are drawn; how many there are in all is told beside them. */
export const PIECES_SHOWN_MAX = 60;

export const ShownPiece = z
  .object({
    ...{ pieceId: Id, code: z.string(), makerId: Id, maker: z.string(), description: z.string() },
    ...{ form: z.enum(VESSEL_SHAPES), widthMm: z.int(), heightMm: z.int(), depthMm: z.int() },
    glazed: z.boolean(),
    since: LocalDate.meta({ description: 'The day on which it came to its stage.' }),
    days: z.int().meta({ description: 'How long it has been there.' }),
    late: z.boolean().meta({ description: 'Longer than ware is kept, or than ware usually waits.' }),
    firingNumber: z.int().nullable().meta({ description: 'The planned firing whose load it is in.' }),
  })
  .meta({ id: 'ShownPiece' });
export type ShownPiece = z.output<typeof ShownPiece>;

export const TodaySession = z
  .object({
    ...{ sessionId: Id, courseId: Id, title: z.string(), purpose: Purpose },
    ...{ startsAt: instant, endsAt: instant, room: z.string(), tutors: z.array(z.string()) },
    booked: z.int().meta({ description: 'Places booked or held, and taken by those who make a session up.' }),
    places: z.int(),
    coming: z
      .array(
        z.object({
          ...{ personId: Id, name: z.string(), provisional: z.boolean() },
          makesUp: z.string().nullable().meta({ description: 'The course of which they make up a session here.' }),
        }),
      )
      .meta({ description: 'Who comes; not who makes this session up elsewhere.' }),
    hazards: z.array(z.string()).meta({ description: 'What its materials warn of.' }),
  })
  .meta({ id: 'TodaySession' });
export type TodaySession = z.output<typeof TodaySession>;

export const TodayFiring = z
  .object({
    ...{ firingId: Id, number: z.int(), kilnId: Id, kiln: z.string(), kind: FiringKind, schedule: z.string() },
    do: z.enum(['load', 'start', 'wait', 'unload', 'settle']),
    from: instant.meta({ description: 'When it started, or should.' }),
    to: instant.meta({ description: 'When it was unloaded, or should be cold enough to be.' }),
    pieces: z.int(),
    fillPercent: z.string().nullable().meta({ description: 'Of the chamber, gaps included; null while it is empty.' }),
    coldSince: instant.nullable().meta({ description: 'By its plan, where it waits to be unloaded.' }),
    cautions: z.array(z.string()).meta({ description: 'What to mind at the kiln, and about what is on its ware.' }),
    layers: z
      .array(z.object({ layer: z.int(), pieces: z.array(ShownPiece) }))
      .meta({ description: 'From below, counted from 1.' }),
  })
  .meta({ id: 'TodayFiring' });
export type TodayFiring = z.output<typeof TodayFiring>;

export const TodayBoard = z
  .object({
    waiting: z
      .enum(['drying', 'bisque', 'glazing', 'glaze', 'sorting', 'collection'])
      .meta({ description: 'What the ware on it waits for.' }),
    pieces: z.array(ShownPiece).max(PIECES_SHOWN_MAX).meta({ description: 'Those that have waited longest, first.' }),
    inAll: z.int(),
    lateInAll: z.int().meta({ description: 'Of all of it, how many have waited too long.' }),
    next: instant.nullable().meta({
      description: 'The next planned firing that takes it; for glazing, the first session to which a maker comes.',
    }),
  })
  .meta({ id: 'TodayBoard' });
export type TodayBoard = z.output<typeof TodayBoard>;

const Collection = z.object({
  makers: z.int().meta({ description: 'Whose ware is ready.' }),
  told: z.int().meta({ description: 'Of them, who was told of all of it.' }),
  longestDays: z.int().nullable(),
});
export type Collection = z.output<typeof Collection>;

export const TodayOrder = z
  .object({
    ...{ materialId: Id, name: z.string(), unit: z.enum(['g', 'ml', 'piece']), packs: z.int(), packQuantity: z.int() },
    isMixed: z.boolean().meta({ description: 'It is mixed here: a batch of it by that day.' }),
    orderBy: LocalDate.meta({ description: 'The last day; it may have passed.' }),
    shortOn: LocalDate.nullable().meta({
      description: 'By bookings alone where it is sure; else as likely as not. null where it only may run short.',
    }),
    sure: z.boolean().meta({ description: 'It runs short by what is booked alone.' }),
  })
  .meta({ id: 'TodayOrder' });
export type TodayOrder = z.output<typeof TodayOrder>;

const Owing = z.object({
  ...{ personId: Id, name: z.string(), dueMinor: SumMinor, owedMinor: SumMinor, firingOwedMinor: SumMinor },
  what: z.array(z.string()).meta({ description: 'What it is for, the longest due first.' }),
});
const Debts = z
  .object({
    ...{ people: z.int(), dueMinor: SumMinor, owedMinor: SumMinor, firingPeople: z.int(), firingOwedMinor: SumMinor },
    heldPeople: z.int(),
    heldMinor: SumMinor.meta({ description: 'What is asked for held places; nobody owes it yet.' }),
    top: z.array(Owing).max(5).meta({ description: 'Who owes most, what is due first.' }),
  })
  .meta({ id: 'TodayDebts' });
export type Debts = z.output<typeof Debts>;

const { occasion } = Notice.shape;
const UndeliveredMail = z.object({
  ...{ noticeId: Id, personId: Id, personName: z.string(), occasion, at: instant },
  ...{ outcome: z.enum(['failed', 'noAddress']), detail: z.string() },
});
const Mail = z.object({ failed: z.array(UndeliveredMail) });
export type Mail = z.output<typeof Mail>;

export const Today = z
  .object({
    day: LocalDate,
    now: instant,
    sessions: z.array(TodaySession),
    nextSessionsOn: LocalDate.nullable().meta({ description: 'The day of these sessions, where it is not today.' }),
    firings: z.array(TodayFiring),
    kilns: z.array(z.object({ kilnId: Id, name: z.string(), widthMm: z.int(), depthMm: z.int(), heightMm: z.int() })),
    boards: z.array(TodayBoard),
    collection: Collection,
    orders: z.array(TodayOrder),
    counts: z.array(z.object({ materialId: Id, name: z.string() })).meta({ description: 'What asks to be counted.' }),
    debts: Debts.nullable().meta({ description: 'null for who may not see money.' }),
    refundsDue: z.array(RefundDue).nullable().meta({ description: 'null for who may not see money.' }),
    mail: Mail.nullable().meta({ description: 'null for who may not see money.' }),
  })
  .meta({ id: 'Today' });
export type Today = z.output<typeof Today>;

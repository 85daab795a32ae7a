import { z } from 'zod';
import { Days, ListQuery } from '../../http/paging.js';
import { Id, Instant, LocalDate, Minor, SingleLine, SumMinor, UpTo } from '../../http/types.js';
import { EMPTY_SPACES } from '../../trade/firing/cost-split.js';
import { OUTCOMES } from '../../trade/firing/firing-outcomes.js';
import { FIRINGS_ENOUGH } from '../../trade/firing/kiln-fill.js';
import { VESSEL_SHAPES } from '../../trade/materials/vessel-shapes.js';
import { FiringKind } from '../kilns/contract.js';
import { Stage } from '../ware/contract.js';

/** A firing with its cooling is done within a week. */
export const FIRING_HOURS_MAX = 7 * 24;
const PIECES_MAX = 500;
const FROM = Date.parse('2000-01-01T00:00:00Z');
const TO = Date.parse('2100-01-01T00:00:00Z');
const Moment = Instant.refine((at) => FROM <= Date.parse(at) && Date.parse(at) < TO, 'must be between 2000 and 2099');
const LabourMinutes = z.int().min(0).max(10_000).meta({ description: 'Loading, watching and unloading.' });
const byPiece = (list: readonly { pieceId: string }[]) =>
  new Set(list.map(({ pieceId }) => pieceId)).size === list.length;
const ONCE = 'must not name a piece twice';

const range = {
  plannedFrom: Moment,
  plannedTo: Moment.meta({ description: 'When it should be cold enough to unload.' }),
};
type Range = { plannedFrom: string; plannedTo: string };
const hours = ({ plannedFrom, plannedTo }: Range) => (Date.parse(plannedTo) - Date.parse(plannedFrom)) / 3_600_000;
const lasts = (plan: Range) => hours(plan) > 0 && hours(plan) <= FIRING_HOURS_MAX;
const LASTS = { path: ['plannedTo'], error: `must come after the beginning, by at most ${FIRING_HOURS_MAX} hours` };

export const NewFiring = z
  .strictObject({ kilnId: Id, scheduleId: Id, ...range, labourMinutes: LabourMinutes })
  .refine(lasts, LASTS)
  .meta({ id: 'NewFiring' });
export type NewFiring = z.output<typeof NewFiring>;

export const FiringPlan = z.strictObject(range).refine(lasts, LASTS).meta({ id: 'FiringPlan' });
export type FiringPlan = z.output<typeof FiringPlan>;

export const NewPlacement = z.strictObject({
  pieceId: Id,
  layer: z.int().min(1).max(30).meta({ description: 'Counted from below.' }),
  studioPays: z
    .boolean()
    .default(false)
    .meta({ description: 'The studio pays the share, for example of a refire that it owes.' }),
  hotterBecause: SingleLine(200)
    .nullable()
    .default(null)
    .meta({ description: 'Why lustred ware goes hotter than lustre.' }),
});
export type NewPlacement = z.output<typeof NewPlacement>;
export const Loading = z
  .strictObject({ placements: z.array(NewPlacement).max(PIECES_MAX).refine(byPiece, ONCE) })
  .meta({ id: 'FiringLoading', description: 'All that is in the kiln; it replaces what was loaded before.' });

export const Start = z
  .strictObject({ startedAt: Moment.optional().meta({ description: 'Now, where it is left out.' }) })
  .meta({ id: 'FiringStart' });

/** As many decimals as meters have, and as are kept. */
const Kwh = UpTo(13).regex(/^\d{1,9}(\.\d{1,3})?$/, 'must be what the meter shows, such as "10423.7"');
export const NewReading = z
  .strictObject({ at: Moment.optional().meta({ description: 'Now, where it is left out.' }), kwh: Kwh })
  .meta({ id: 'NewReading' });
export type NewReading = z.output<typeof NewReading>;
export const Reading = z.object({ at: z.iso.datetime(), kwh: z.string() }).meta({ id: 'Reading' });
export type Reading = z.output<typeof Reading>;

const opened = {
  endedAt: Moment.meta({ description: 'When the kiln was switched off.' }),
  unloadedAt: Moment.optional().meta({ description: 'Now, where it is left out.' }),
  boardId: Id.nullable().default(null).meta({ description: 'Where the ware goes; null, on no board.' }),
};
export const Unloading = z
  .strictObject({
    ...opened,
    outcomes: z
      .array(
        z.strictObject({
          pieceId: Id,
          outcome: z.enum(OUTCOMES),
          note: z.union([z.literal(''), SingleLine(200)]).default(''),
        }),
      )
      .max(PIECES_MAX)
      .refine(byPiece, ONCE)
      .meta({ description: 'One for each piece that was in the kiln.' }),
  })
  .meta({ id: 'FiringUnloading' });
export type Unloading = z.output<typeof Unloading>;

export const Failure = z
  .strictObject({
    ...opened,
    because: SingleLine(300),
    brokenPieceIds: z
      .array(Id)
      .max(PIECES_MAX)
      .default([])
      .meta({ description: 'The others wait for another firing.' }),
  })
  .meta({ id: 'FiringFailure' });
export type Failure = z.output<typeof Failure>;

export const Settlement = z
  .strictObject({
    labourMinutes: LabourMinutes.optional().meta({ description: 'As planned, where it is left out.' }),
    bill: z.boolean().default(false).meta({ description: 'Charge each maker their share at once.' }),
  })
  .meta({ id: 'FiringSettlement' });
export type Settlement = z.output<typeof Settlement>;

const moment = z.iso.datetime();
const FIRING_STATES = ['planned', 'firing', 'unloaded', 'settled', 'failed'] as const;
export const FiringState = z.enum(FIRING_STATES);
export type FiringState = z.output<typeof FiringState>;
export const Firing = z
  .object({
    id: Id,
    number: z.int(),
    ...{ kilnId: Id, kilnName: z.string(), scheduleId: Id, scheduleName: z.string(), kind: FiringKind },
    state: FiringState,
    ...{ plannedFrom: moment, plannedTo: moment },
    ...{ startedAt: moment.nullable(), endedAt: moment.nullable(), unloadedAt: moment.nullable() },
    failedBecause: z.string().nullable(),
    labourMinutes: z.int(),
    pieces: z.int(),
    overruns: z
      .object({ firingId: Id, number: z.int(), plannedFrom: moment, plannedTo: moment })
      .nullable()
      .meta({ description: 'The plan of the same kiln into which this firing runs, or is going to: move that one.' }),
    caution: z.string().nullable().meta({ description: 'What to mind at the kiln, as it is now.' }),
  })
  .meta({ id: 'Firing' });
export type Firing = z.output<typeof Firing>;

const InKiln = z.object({
  ...{ pieceId: Id, code: z.string(), makerId: Id, makerName: z.string(), description: z.string() },
  ...{ form: z.enum(VESSEL_SHAPES), widthMm: z.int(), depthMm: z.int(), heightMm: z.int(), stage: Stage },
  ...{ studioPays: z.boolean(), hotterBecause: z.string().nullable(), outcome: z.enum(OUTCOMES).nullable() },
});
export const FiringInDetail = Firing.extend({
  layers: z.array(z.object({ layer: z.int(), pieces: z.array(InKiln) })).meta({ description: 'From below.' }),
  readings: z.array(Reading),
  hazards: z.array(z.string()).meta({ description: 'What is on its ware and needs care in the firing.' }),
}).meta({ id: 'FiringInDetail' });
export type FiringInDetail = z.output<typeof FiringInDetail>;

const ShareLine = z.object({
  ...{ pieceId: Id, code: z.string(), personId: Id, personName: z.string() },
  weightMm3: z.int().meta({ description: 'The room that it took in this firing: what it is shared by.' }),
  amountMinor: Minor,
  labourMinor: Minor.meta({ description: "What of it is the owner's time; the rest is electricity and wear." }),
  borneBy: z.enum(['course', 'maker', 'studio']),
});
const EmptySpace = z.enum(EMPTY_SPACES);
const PercentText = z.string();
export const FiringCost = z
  .object({
    ...{ firingId: Id, number: z.int(), currency: z.string() },
    ...{ energyKwh: z.string(), tariffName: z.string(), labourMinutes: z.int() },
    ...{ energyMinor: Minor, wearMinor: Minor },
    energyAndWearMinor: Minor.meta({ description: 'What was paid out for it.' }),
    labourMinor: Minor.meta({ description: "The owner's time, at their wage." }),
    costMinor: Minor.meta({ description: 'Both; the shares and studioMinor add up to it exactly.' }),
    studioMinor: Minor.meta({ description: "The studio's own part: empty room, or all of a firing that failed." }),
    studioLabourMinor: Minor.meta({ description: 'What of that is time.' }),
    filledPercent: PercentText.meta({ description: 'Of the chamber, by the room that its ware took.' }),
    usualFillPercent: PercentText.nullable().meta({
      description:
        'How full such firings usually were when it was settled; null where it was settled before that was noted.',
    }),
    emptySpace: EmptySpace.nullable().meta({ description: 'Who paid for the empty room, as it was set then.' }),
    asPricedMinor: Minor.nullable().meta({
      description: "What a course's price counts for the same ware: electricity and wear, at the usual fill.",
    }),
    whyNotAsPriced: z.string().nullable().meta({ description: 'By how much its shares differ from that, and why.' }),
    shares: z.array(ShareLine),
    charges: z.array(
      z.object({
        ...{ personId: Id, personName: z.string(), chargeId: Id, grossMinor: Minor },
        includedMinor: Minor.meta({ description: 'Of it, what the maker’s membership includes; it is credited.' }),
      }),
    ),
  })
  .meta({ id: 'FiringCost' });
export type FiringCost = z.output<typeof FiringCost>;

export const FiringBill = z
  .object({
    personId: Id,
    personName: z.string(),
    chargeId: Id,
    pieces: z.int(),
    netMinor: Minor,
    labourMinor: Minor.meta({
      description: "What of the net sum is the owner's time; the rest is electricity and wear.",
    }),
    grossMinor: Minor,
    includedMinor: Minor.meta({
      description: 'Of the gross sum, what the maker’s membership includes; it is credited.',
    }),
  })
  .meta({ id: 'FiringBill' });
export type FiringBill = z.output<typeof FiringBill>;

export const FiringQuery = ListQuery.extend({
  q: ListQuery.shape.q.meta({ description: 'The number, or words of the kiln’s or the schedule’s name.' }),
  ...Days,
  kilnId: Id.optional(),
  kind: FiringKind.optional(),
  state: z.enum(FIRING_STATES).optional(),
  order: z.enum(['oldest', 'newest']).default('oldest').meta({
    description: 'As they were entered; newest: the latest planned first.',
  }),
}).meta({ description: 'From and to are of the day for which it is planned.' });
export type FiringQuery = z.output<typeof FiringQuery>;

export const NewCollectionNotices = z
  .strictObject({
    personId: Id.optional().meta({ description: 'Only for this maker; for everybody, where it is left out.' }),
  })
  .meta({ id: 'NewCollectionNotices' });
export type NewCollectionNotices = z.output<typeof NewCollectionNotices>;
export const Announced = z
  .object({
    personId: Id,
    personName: z.string(),
    noticeId: Id,
    documentId: Id,
    pieceIds: z.array(Id),
    owedMinor: SumMinor,
  })
  .meta({ id: 'Announced' });
export type Announced = z.output<typeof Announced>;

const Fill = z
  .object({
    percent: PercentText.meta({ description: 'What prices and shares at the usual fill go by.' }),
    isLearnt: z.boolean().meta({
      description: `Of the kiln's latest firings of that kind; false: fewer than ${FIRINGS_ENOUGH} are known, and the assumption counts.`,
    }),
    firings: z.int(),
    assumedPercent: PercentText,
    meanPercent: PercentText.nullable(),
    lowPercent: PercentText.nullable().meta({
      description: 'The true mean is between low and high with 8 chances in 10.',
    }),
    highPercent: PercentText.nullable(),
  })
  .meta({ id: 'KilnFill', description: 'How full a kiln usually is, in percent of its chamber.' });
export const KilnFills = z
  .object({ kilnId: Id, kiln: z.string(), bisque: Fill, glaze: Fill, lustre: Fill })
  .meta({ id: 'KilnFills' });
export type KilnFills = z.output<typeof KilnFills>;

export const UnusedRoom = z
  .object({
    currency: z.string(),
    firings: z.int().meta({ description: 'The latest settled ones; those that failed are left out.' }),
    ...{ from: LocalDate.nullable(), to: LocalDate.nullable() },
    costMinor: Minor.meta({ description: 'What they cost: electricity, wear and your time.' }),
    choices: z.array(
      z.object({
        emptySpace: EmptySpace,
        isSet: z.boolean(),
        makersMinor: Minor.meta({ description: 'What makers would have paid, without VAT.' }),
        coursesMinor: Minor.meta({ description: 'What would have fallen to courses.' }),
        studioMinor: Minor.meta({
          description: 'What would have stayed with the studio, breakages and refires it owes included.',
        }),
      }),
    ),
  })
  .meta({
    id: 'UnusedRoom',
    description: 'What each way to share out empty room would have meant. Nothing is changed.',
  });
export type UnusedRoom = z.output<typeof UnusedRoom>;

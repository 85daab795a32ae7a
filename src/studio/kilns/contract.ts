import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { DecimalText, Id, LocalDate, Minor, UpTo } from '../../http/types.js';
import { CONE_FAULT, isCone } from '../../trade/firing/cones.js';
import { FIRING_KINDS } from '../../trade/firing/kiln-room.js';

export const FiringKind = z.enum(FIRING_KINDS);
export type FiringKind = z.output<typeof FiringKind>;

const InsideMm = z.int().min(100).max(3000).meta({ description: 'Inside the chamber.' });
/** As many decimals as are kept: more would be dropped without a word. */
const within = (max: number, decimals: number) =>
  DecimalText.refine(
    (d) => Number(d) > 0 && Number(d) <= max && (d.split('.')[1]?.length ?? 0) <= decimals,
    `must be above 0 and at most ${max}, with up to ${decimals} decimals`,
  );

const NewWear = z.union(
  [
    Minor,
    z.strictObject({ costMinor: Minor, firings: z.int().min(1).max(100_000) }).meta({
      description: 'What is replaced, and how many firings it lasts: a firing costs the one by the other.',
    }),
  ],
  { error: 'must be a sum, or what is replaced and how many firings it lasts' },
);
const NewWearMinor = z
  .strictObject({ bisque: NewWear, glaze: NewWear, lustre: NewWear })
  .meta({ id: 'NewWearMinor', description: 'What a firing of each kind wears, as a sum or by what is replaced.' });

const WearMinor = z
  .strictObject({ bisque: Minor, glaze: Minor, lustre: Minor })
  .meta({ id: 'WearMinor', description: 'Elements, thermocouple, shelves and kiln wash, per firing of each kind.' });

export const NewKiln = z
  .strictObject({
    name: PrintedLine(80),
    shape: z.enum(['rectangular', 'round', 'oval']),
    widthMm: InsideMm,
    depthMm: InsideMm,
    heightMm: InsideMm,
    ratedKw: within(200, 2),
    fillPercent: within(100, 3).meta({
      description:
        'How full it usually is, in percent of its chamber: your assumption, until enough firings of a kind say it (GET /kiln-fills).',
    }),
    coolingHours: z.int().min(0).max(168).default(24).meta({
      description: 'From the end of the schedule until it is cold enough to open, as its manufacturer says.',
    }),
    wearMinor: NewWearMinor,
  })
  .refine((kiln) => kiln.shape !== 'round' || kiln.widthMm === kiln.depthMm, {
    path: ['depthMm'],
    error: 'must equal the width in a round kiln; an oval one has two',
  })
  .meta({ id: 'NewKiln' });
export type NewKiln = z.output<typeof NewKiln>;

export const Kiln = z
  .object({
    id: Id,
    name: z.string(),
    shape: NewKiln.shape.shape,
    widthMm: z.int(),
    depthMm: z.int(),
    heightMm: z.int(),
    chamberMm3: z.int(),
    ratedKw: z.string(),
    fillPercent: z.string(),
    coolingHours: z.int(),
  })
  .meta({ id: 'Kiln' });
export const KilnWear = z.object({ kilnId: Id, wearMinor: WearMinor }).meta({ id: 'KilnWear' });
export const KilnWithWear = Kiln.extend({ wearMinor: WearMinor }).meta({ id: 'KilnWithWear' });
export type KilnWithWear = z.output<typeof KilnWithWear>;

const Segment = z
  .strictObject({
    ratePerHourC: z.int().min(1).max(2000).meta({ description: 'Up or down, °C an hour.' }),
    targetC: z.int().min(20).max(1400),
    holdMinutes: z.int().min(0).max(6000),
  })
  .meta({ id: 'Segment' });

export const NewSchedule = z
  .strictObject({
    name: PrintedLine(80),
    kind: FiringKind,
    cone: UpTo(10)
      .refine(isCone, CONE_FAULT)
      .nullable()
      .default(null)
      .meta({ description: 'The self-supporting witness cone that should go down.' }),
    segments: z.array(Segment).min(1).max(50),
  })
  .meta({ id: 'NewSchedule' });
export type NewSchedule = z.output<typeof NewSchedule>;

export const Schedule = z
  .object({
    id: Id,
    name: z.string(),
    kind: FiringKind,
    cone: z.string().nullable(),
    segments: z.array(Segment),
    topC: z.int(),
    programmedMinutes: z
      .int()
      .meta({ description: 'From a chamber at 20 °C, cooling only where it is programmed. A real kiln takes longer.' }),
    coneDownC: z.number().nullable().meta({
      description: 'Where the chart has the cone down at this rate; null without a cone, or outside the chart.',
    }),
  })
  .meta({ id: 'Schedule' });
export type Schedule = z.output<typeof Schedule>;

const Band = z
  .strictObject({
    fromMinute: z.int().min(0).max(1439),
    toMinute: z.int().min(1).max(1440),
    perKwhMinor: DecimalText,
  })
  .meta({ id: 'TariffBand', description: 'Minutes of the local day.' });

export const NewTariff = z
  .strictObject({
    name: PrintedLine(80),
    validFrom: LocalDate.refine((day) => day >= '2000-01-01' && day < '2100-01-01', 'must be between 2000 and 2099'),
    bands: z.array(Band).min(1).max(48).meta({ description: 'Together they cover the day once, 0 to 1440.' }),
  })
  .meta({ id: 'NewTariff' });
export type NewTariff = z.output<typeof NewTariff>;
export const Tariff = z
  .object({ id: Id, name: z.string(), validFrom: LocalDate, bands: z.array(Band) })
  .meta({ id: 'Tariff' });
export type Tariff = z.output<typeof Tariff>;

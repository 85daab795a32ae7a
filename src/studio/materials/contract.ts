import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { DecimalText, Id, Instant, LocalDate, Minor, SingleLine, Text } from '../../http/types.js';
import { GLAZING_METHODS } from '../../trade/materials/manufacturer-statement.js';

/** Ten tonnes, in grams; more is a slip of the keys. */
const QUANTITY_MAX = 10_000_000;
export const Quantity = z
  .int()
  .min(1)
  .max(QUANTITY_MAX)
  .meta({ description: "In the material's unit: g, ml or pieces." });

/** Three decimals, as many as are kept: a fourth would be dropped without a word. */
const PercentUpTo = (max: number) =>
  DecimalText.refine(
    (p) => Number(p) <= max && /^\d+(\.\d{1,3})?$/.test(p),
    `must be at most ${max}, with up to 3 decimals`,
  );
const DryGramsPerMl = DecimalText.refine(
  (d) => Number(d) > 0 && Number(d) <= 5 && /^\d+(\.\d{1,4})?$/.test(d),
  'must be above 0 and at most 5, with up to 4 decimals',
);
const TemperatureC = z.int().min(100).max(1500);

const FiringRange = z
  .strictObject({ fromC: TemperatureC, toC: TemperatureC })
  .refine((range) => range.fromC <= range.toC, { path: ['toC'], error: 'must not be below fromC' })
  .meta({ id: 'FiringRange', description: 'Where it matures; nothing made of it is fired outside.' });

export const MaterialKind = z
  .enum([
    ...(['clay', 'glaze', 'slip', 'underglaze', 'oxide', 'stain', 'rawMaterial', 'frit'] as const),
    ...(['glass', 'lustre', 'wax', 'kilnWash', 'consumable', 'packaging'] as const),
  ])
  .meta({
    id: 'MaterialKind',
    description:
      'A raw material is what glazes are weighed out from: feldspar, whiting, flint, ball clay in powder. A frit was melted and ground first; an oxide or a stain colours.',
  });
export type MaterialKind = z.output<typeof MaterialKind>;

const HazardNote = z.strictObject({ text: PrintedLine(600), statedOn: LocalDate }).meta({
  id: 'HazardNote',
  description:
    'What its supplier’s safety data sheet warns of, and the date of that sheet. The sheet itself takes precedence.',
});

const Coats = z.int().min(1).max(20);
const StatementAsks = z
  .strictObject({
    coats: z
      .strictObject({ least: Coats, most: Coats })
      .refine(({ least, most }) => least <= most, { path: ['most'], error: 'must not be below least' })
      .nullable()
      .meta({ description: 'How many coats; null: it names no number.' }),
    way: z.enum(GLAZING_METHODS).nullable().meta({ description: 'How it is to be put on; null: it names no way.' }),
    firing: FiringRange.nullable().meta({
      description: 'The top of the glaze firing; null: it names none, and the firing range holds.',
    }),
  })
  .meta({ id: 'StatementAsks', description: 'What the statement asks for. Pieces are compared with it.' });

const ManufacturerStatement = z
  .strictObject({
    quote: PrintedLine(300),
    statedOn: LocalDate,
    asks: StatementAsks.nullable().default(null).meta({
      description:
        'Null: not entered yet. Until it is, no piece can be compared with it, and all carry “decorative, not for food or drink”.',
    }),
  })
  .meta({
    id: 'ManufacturerStatement',
    description: "The manufacturer's own words on using it with food, and their date. Never ours.",
  });

export const NewMaterial = z
  .strictObject({
    name: PrintedLine(120),
    kind: MaterialKind,
    unit: z.enum(['g', 'ml', 'piece']).meta({ description: 'What it is counted in, always whole.' }),
    packQuantity: Quantity.meta({ description: 'How much is in a pack as it is bought.' }),
    leadTimeDays: z.int().min(0).max(365),
    waterPercent: PercentUpTo(90).nullable().default(null).meta({ description: 'By damp weight.' }),
    inputVatPercent: PercentUpTo(100).nullable().default(null).meta({
      description: "VAT in its purchases; the studio's, if null. Lots are entered without what is reclaimed of it.",
    }),
    dryingShrinkagePercent: PercentUpTo(40).nullable().default(null),
    firingShrinkagePercent: PercentUpTo(40).nullable().default(null).meta({ description: 'Linear, on dry basis.' }),
    dryGramsPerMl: DryGramsPerMl.nullable().default(null),
    firingRange: FiringRange.nullable().default(null),
    manufacturerStatement: ManufacturerStatement.nullable().default(null),
    hazardNote: HazardNote.nullable().default(null),
    shelfLifeDays: z
      .int()
      .min(1)
      .max(7300)
      .nullable()
      .default(null)
      .meta({ description: 'From its arrival; null: keeps.' }),
  })
  .refine((m) => m.kind !== 'clay' || m.unit === 'g', { path: ['unit'], error: 'must be "g": clay is weighed' })
  .refine((m) => m.dryGramsPerMl === null || m.unit === 'ml', {
    path: ['dryGramsPerMl'],
    error: 'is only known of what is counted in ml',
  })
  // a coating is reckoned in dry grams; without the density nobody could say how many ml that is
  .refine((m) => m.kind !== 'glaze' || m.unit !== 'ml' || m.dryGramsPerMl !== null, {
    path: ['dryGramsPerMl'],
    error: 'is needed for a glaze in ml: dry 100 ml of it, weigh what is left and divide by 100',
  })
  .meta({ id: 'NewMaterial' });
export type NewMaterial = z.output<typeof NewMaterial>;

export const Material = z
  .object({
    id: Id,
    name: z.string(),
    kind: NewMaterial.shape.kind,
    unit: NewMaterial.shape.unit,
    packQuantity: z.int(),
    leadTimeDays: z.int(),
    waterPercent: z.string().nullable(),
    inputVatPercent: z.string().nullable(),
    dryingShrinkagePercent: z.string().nullable(),
    firingShrinkagePercent: z.string().nullable(),
    dryGramsPerMl: z.string().nullable(),
    firingRange: z.object({ fromC: z.int(), toC: z.int() }).nullable(),
    manufacturerStatement: z
      .object({ quote: z.string(), statedOn: LocalDate, asks: StatementAsks.nullable() })
      .nullable(),
    hazardNote: z.object({ text: z.string(), statedOn: LocalDate }).nullable(),
    shelfLifeDays: z.int().nullable(),
  })
  .meta({ id: 'Material' });
export type Material = z.output<typeof Material>;

const stock = {
  onHand: z.int().meta({ description: 'By the books, in the unit of the material.' }),
  asksForCount: z.boolean().meta({ description: 'More was used than was recorded, and nobody has counted since.' }),
};
export const StockedMaterial = Material.extend(stock).meta({ id: 'StockedMaterial' });
export type StockedMaterial = z.output<typeof StockedMaterial>;

const Lot = z
  .object({
    id: Id,
    supplier: z.string().nullable().meta({ description: 'None for what was found.' }),
    receivedOn: LocalDate,
    quantity: z.int(),
    left: z.int(),
  })
  .meta({ id: 'Lot' });

export const StockMove = z
  .object({
    id: Id,
    lotId: Id,
    kind: z.enum([
      ...(['received', 'drawn', 'wasted', 'found', 'missing', 'returned', 'reclaimed', 'carriage'] as const),
      ...(['unmixed', 'sold', 'takenBack'] as const),
    ]),
    quantity: z.int().meta({
      description: 'Above zero in, below zero out; carriage changes the cost alone, and unmixed goes both ways.',
    }),
    at: Instant,
    note: z.string(),
  })
  .meta({ id: 'StockMove' });
export type StockMove = z.output<typeof StockMove>;

export const MaterialInDetail = StockedMaterial.extend({
  lots: z.array(Lot).meta({ description: 'Those with something left, in the order in which they are used.' }),
  moves: z.array(StockMove).meta({ description: 'The latest, newest first; all are under /moves.' }),
}).meta({ id: 'MaterialInDetail' });
export type MaterialInDetail = z.output<typeof MaterialInDetail>;

export const NewLot = z
  .strictObject({
    supplier: SingleLine(120),
    receivedOn: LocalDate,
    quantity: Quantity,
    costMinor: Minor.meta({
      description: 'All of it, carriage included where it is known, and VAT unless the studio gets it back. Final.',
    }),
  })
  .meta({ id: 'NewLot' });
export type NewLot = z.output<typeof NewLot>;
export const CostedLot = Lot.extend({ costMinor: z.int(), leftWorthMinor: z.int() }).meta({ id: 'CostedLot' });
export type CostedLot = z.output<typeof CostedLot>;

export const NewMaterialDraw = z
  .strictObject({
    quantity: Quantity,
    kind: z.enum(['drawn', 'wasted']).default('drawn').meta({ description: 'Wasted: spilt, dried out, thrown away.' }),
    note: Text(300).default(''),
  })
  .meta({ id: 'NewDraw' });
export type NewMaterialDraw = z.output<typeof NewMaterialDraw>;
export const MaterialDrawn = z
  .object({
    moveIds: z.array(Id),
    foundQuantity: z.int().meta({ description: 'What was not in recorded stock, and was taken as found.' }),
    ...stock,
  })
  .meta({ id: 'Drawn' });

export const NewCount = z
  .strictObject({
    counted: z
      .int()
      .min(0)
      .max(10 * QUANTITY_MAX),
    explanation: SingleLine(300)
      .nullable()
      .default(null)
      .meta({ description: 'Needed where the count differs from the books.' }),
  })
  .meta({ id: 'NewCount' });
export type NewCount = z.output<typeof NewCount>;
export const Count = z
  .object({ id: Id, at: Instant, counted: z.int(), inBooks: z.int(), explanation: z.string().nullable() })
  .meta({ id: 'Count' });
export type Count = z.output<typeof Count>;

const packPrice = z
  .object({ amountMinor: z.int(), detail: z.string() })
  .nullable()
  .meta({ description: 'What a pack cost by the latest lot, carriage included, and which lot that is.' });
export const MaterialCosts = z
  .object({ materialId: Id, packPrice, worthMinor: z.int(), lots: z.array(CostedLot) })
  .meta({ id: 'MaterialCosts' });
export type MaterialCosts = z.output<typeof MaterialCosts>;

export const StockValueLine = z
  .object({
    materialId: Id,
    name: z.string(),
    unit: NewMaterial.shape.unit,
    packQuantity: z.int(),
    packPrice,
    onHand: z.int(),
    worthMinor: z.int(),
  })
  .meta({ id: 'StockValueLine' });

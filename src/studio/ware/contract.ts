import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { ListQuery } from '../../http/paging.js';
import { Id, LocalDate, SingleLine } from '../../http/types.js';
import { STAGES } from '../../trade/firing/ware-stages.js';
import { GLAZING_METHODS } from '../../trade/materials/manufacturer-statement.js';
import { SIZES, VESSEL_SHAPES } from '../../trade/materials/vessel-shapes.js';
import { MaterialKind, Quantity } from '../materials/contract.js';

/** One person's ware at one intake. */
const PIECES_MAX = 100;
/** What a long board or a whole kiln holds. */
const NOTED_MAX = 500;

export const Stage = z.enum(STAGES);
const Millimetres = z.int().min(1).max(2000);
const Size = z.strictObject({ widthMm: Millimetres, depthMm: Millimetres, heightMm: Millimetres });
const PaidBy = z.enum(['course', 'maker']).meta({ description: 'Who pays for firing it.' });
/** Something may be noted, or nothing. */
const Note = z.union([z.literal(''), SingleLine(300)]).default('');

/** A description is printed on notices, and no piece is called safe for food without a laboratory's test. */
const Description = PrintedLine(80).refine(
  (text) => !/food[\s-]*safe|safe\s+(for|with)\s+food/i.test(text),
  'must say what the piece is; whether it may hold food is for a laboratory to test',
);

const NewWare = z.strictObject({
  form: z.enum(VESSEL_SHAPES),
  size: z.union([z.enum(SIZES), Size]).meta({ description: 'Fired size; a word means a likely one of that form.' }),
  description: Description,
  clayId: Id.nullable(),
  count: z.int().min(1).max(PIECES_MAX).default(1).meta({ description: 'How many of this kind.' }),
});

export const NewPieces = z
  .strictObject({
    makerId: Id,
    courseId: Id.nullable().meta({ description: 'Where it was made; null for home-made ware.' }),
    firingPaidBy: PaidBy.meta({
      description:
        'Who pays for firing it. A course pays for so many litres of each student as its plan includes: a piece that does not fit any more becomes its maker’s to pay, as the answer tells.',
    }),
    boardId: Id.nullable(),
    stage: z
      .enum(['greenware', 'dry', 'bisque', 'glazed'])
      .default('greenware')
      .meta({ description: 'Ware from elsewhere may come bisqued or glazed.' }),
    ware: z.array(NewWare).min(1).max(PIECES_MAX),
  })
  .refine(({ firingPaidBy, courseId }) => firingPaidBy === 'maker' || courseId !== null, {
    path: ['courseId'],
    error: 'must name the course that pays for the firing',
  })
  .refine(({ ware }) => ware.reduce((sum, { count }) => sum + count, 0) <= PIECES_MAX, {
    path: ['ware'],
    error: `must have at most ${PIECES_MAX} pieces; take in the rest by another request`,
  })
  .meta({ id: 'NewPieces' });
export type NewPieces = z.output<typeof NewPieces>;

export const Piece = z
  .object({
    id: Id,
    code: z.string(),
    makerId: Id,
    makerName: z.string(),
    courseId: Id.nullable(),
    firingPaidBy: PaidBy,
    description: z.string(),
    form: z.enum(VESSEL_SHAPES),
    ...Size.shape,
    measured: z.boolean().meta({ description: 'False where the size is a likely one, from the form and a word.' }),
    clayId: Id.nullable(),
    boardId: Id.nullable(),
    stage: Stage,
    createdAt: z.iso.datetime(),
  })
  .meta({ id: 'Piece' });
export type Piece = z.output<typeof Piece>;

const Layer = z.strictObject({
  materialId: Id,
  coats: z.int().min(1).max(20),
  way: z
    .enum(GLAZING_METHODS)
    .nullable()
    .default(null)
    .meta({ description: 'How it was put on; null: nobody noted it.' }),
  foodSurface: z.boolean(),
});
export type Layer = z.output<typeof Layer>;
export const NewLayers = z
  .strictObject({
    layers: z.array(Layer).min(1).max(20),
    singleFiring: z.boolean().default(false).meta({
      description: 'Raw ware is glazed to be fired once, without a bisque. It must be bone dry before it is fired.',
    }),
    note: Note,
  })
  .meta({ id: 'NewGlazes' });
export type NewLayers = z.output<typeof NewLayers>;

const PieceEvent = z.object({ at: z.iso.datetime(), stage: Stage, boardName: z.string().nullable(), note: z.string() });
const PieceDraw = z.object({
  ...{ materialId: Id, name: z.string(), unit: z.enum(['g', 'ml', 'piece']), quantity: z.int() },
  ...{ at: z.iso.datetime(), note: z.string() },
});
export const NewPieceDraw = z
  .strictObject({ materialId: Id, quantity: Quantity, note: SingleLine(200).optional() })
  .meta({ id: 'NewPieceDraw' });
export type NewPieceDraw = z.output<typeof NewPieceDraw>;

export const PieceStory = z
  .object({
    ...Piece.shape,
    glazes: z
      .array(
        z.object({
          ...Layer.shape,
          way: z.enum(GLAZING_METHODS).nullable(),
          name: z.string(),
          kind: MaterialKind,
          washedOffAt: z.iso.datetime().nullable().meta({ description: 'It is no longer on the piece.' }),
        }),
      )
      .meta({ description: 'All that was put on it, in that order.' }),
    events: z.array(PieceEvent).meta({ description: 'All that happened to it, oldest first.' }),
    draws: z.array(PieceDraw).meta({ description: 'What was used from the shelf for it alone, oldest first.' }),
  })
  .meta({ id: 'PieceStory' });
export type PieceStory = z.output<typeof PieceStory>;

export const ListedPiece = Piece.extend({
  boardName: z.string().nullable(),
  courseTitle: z.string().nullable(),
  notedAt: z.iso.datetime().meta({ description: 'When something was last noted of it: since then it waits.' }),
}).meta({ id: 'ListedPiece' });
export type ListedPiece = z.output<typeof ListedPiece>;

export const PieceQuery = ListQuery.extend({
  q: ListQuery.shape.q.meta({ description: 'The code, or words of the description or the maker’s name.' }),
  ...{ makerId: Id.optional(), courseId: Id.optional(), boardId: Id.optional() },
  ...{ stage: Stage.optional(), form: z.enum(VESSEL_SHAPES).optional() },
  is: z.enum(['here', 'gone']).optional().meta({
    description: 'Gone: collected, given away, reclaimed or broken.',
  }),
  waitingSince: LocalDate.optional().meta({
    description: 'Of what is here, that of which nothing was noted after this day.',
  }),
  order: z.enum(['oldest', 'newest', 'waiting']).default('oldest').meta({
    description: 'Waiting: what is here, the longest waiting first.',
  }),
});
export type PieceQuery = z.output<typeof PieceQuery>;

export const NewBoard = z
  .strictObject({ name: PrintedLine(80), kind: z.enum(['wareBoard', 'dampCupboard', 'shelf', 'collection']) })
  .meta({ id: 'NewBoard' });
export type NewBoard = z.output<typeof NewBoard>;
export const Board = z
  .object({ id: Id, ...NewBoard.shape, pieces: z.int().meta({ description: 'How many are on it.' }) })
  .meta({ id: 'Board' });
export type Board = z.output<typeof Board>;

export const BoardStage = z.strictObject({ stage: Stage, note: Note }).meta({ id: 'BoardStage' });
export const PieceStage = z
  .strictObject({
    pieceIds: z
      .array(Id)
      .min(1)
      .max(NOTED_MAX)
      .refine((ids) => new Set(ids).size === ids.length, 'must not name a piece twice'),
    stage: Stage,
    note: Note,
    boardId: Id.nullable().optional().meta({ description: 'Where they go: left out, they stay; null, on no board.' }),
  })
  .meta({ id: 'PieceStage' });
export const WashingOff = PieceStage.omit({ stage: true }).meta({ id: 'WashingOff' });
export const Pieces = z.object({ items: z.array(Piece) });

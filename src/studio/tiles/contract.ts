import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { PageQuery } from '../../http/paging.js';
import { Id, Instant, LocalDate, SingleLine, Text, UpTo } from '../../http/types.js';
import { CONE_FAULT, isCone } from '../../trade/firing/cones.js';
import { GLAZING_METHODS } from '../../trade/materials/manufacturer-statement.js';

const LAYERS_MAX = 12;
const words = (what: string) => Text(200).default('').meta({ description: what });

const layer = {
  materialId: Id,
  coats: z.int().min(1).max(20).default(1),
  way: z.enum(GLAZING_METHODS),
};
const firing = {
  firedOn: LocalDate,
  kilnId: Id.nullable().default(null),
  scheduleId: Id.nullable().default(null),
  cone: UpTo(10)
    .refine(isCone, CONE_FAULT)
    .nullable()
    .default(null)
    .meta({ description: 'Reached, by the self-supporting witness cone next to it.' }),
};
const run = z
  .enum(['stayed', 'moved', 'ranOff'])
  .nullable()
  .default(null)
  .meta({ description: 'Whether the glaze stayed, moved or ran off the tile; null: nobody looked.' });

export const NewTile = z
  .strictObject({
    name: PrintedLine(120),
    bodyId: Id.meta({ description: 'The clay it is made of.' }),
    layers: z
      .array(z.strictObject(layer))
      .min(1)
      .max(LAYERS_MAX)
      .meta({ description: 'In order: the first is on the clay.' }),
    firing: z.strictObject(firing).nullable().default(null).meta({ description: 'Null until it was fired.' }),
    colour: words('How it looks, in your own words.'),
    surface: words('Matt, satin, glossy, dry, pitted.'),
    run,
    defects: words('Crawling, pinholes, crazing, blisters; empty where there are none.'),
    notes: Text(2000).default(''),
  })
  .refine((tile) => tile.firing !== null || tile.run === null, {
    path: ['run'],
    error: 'is only seen once the tile is fired: say when',
  })
  .meta({ id: 'NewTestTile' });
export type NewTile = z.output<typeof NewTile>;

const named = z.object({ id: Id, name: z.string() });
export const Tile = z
  .object({
    id: Id,
    number: z.int().meta({ description: 'To scratch into its back.' }),
    name: z.string(),
    body: named,
    layers: z.array(z.object({ ...layer, coats: z.int(), name: z.string() })),
    firing: z
      .object({ firedOn: LocalDate, kiln: named.nullable(), schedule: named.nullable(), cone: z.string().nullable() })
      .nullable(),
    colour: z.string(),
    surface: z.string(),
    run: z.enum(['stayed', 'moved', 'ranOff']).nullable(),
    defects: z.string(),
    notes: z.string(),
    photos: z.array(z.object({ id: Id, mediaType: z.string(), addedAt: Instant })),
    manufacturerStatement: z.object({ name: z.string(), quote: z.string(), statedOn: LocalDate }).nullable().meta({
      description:
        'On food: the manufacturer’s own words on its one glaze, where it was put on and fired as they ask. Null where there are none, where it was done otherwise, and for layers or a mix of one’s own: then it is decorative, until a laboratory has tested it.',
    }),
  })
  .meta({ id: 'TestTile' });
export type Tile = z.output<typeof Tile>;

export const TileQuery = PageQuery.extend({
  search: SingleLine(200)
    .optional()
    .meta({ description: 'Words, each of which must be in its name, number, notes, result or materials.' }),
  glazeId: Id.optional(),
  bodyId: Id.optional(),
});
export type TileQuery = z.output<typeof TileQuery>;

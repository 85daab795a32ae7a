import { readFile } from 'node:fs/promises';
import { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
import { NewMaterial } from '../../studio/materials/contract.js';
import { addMaterial, receiveLot } from '../../studio/materials/service.js';
import { makeBatch } from '../../studio/mixes/batches.js';
import { NewBatch, NewMix } from '../../studio/mixes/contract.js';
import { addMix } from '../../studio/mixes/service.js';
import { NewTile } from '../../studio/tiles/contract.js';
import { addTile } from '../../studio/tiles/service.js';
import type { IdRegistry } from './id-registry.js';
import type { Shift } from './seeds.js';

const FILE = new URL('../../../seeds-demo/mixes.json', import.meta.url);

const Share = z.tuple([z.string(), z.string()]);
const Layer = z.tuple([z.string(), z.int(), z.string()]);
const Stated = z.object({ text: z.string(), statedOn: z.iso.date() });
const At = z.object({ at: z.string() });
const MixesFile = z.object({
  materials: z.array(z.looseObject({ name: z.string(), hazardNote: Stated.optional() })),
  lots: z.array(At.extend({ material: z.string(), quantity: z.int(), costMinor: z.int() })),
  supplier: z.string(),
  mixes: z.array(z.looseObject({ ...At.shape, product: z.string(), parts: z.array(Share) })),
  batches: z.array(z.looseObject({ ...At.shape, of: z.string() })),
  tiles: z.array(
    z.looseObject({
      ...At.shape,
      ...{ body: z.string(), layers: z.array(Layer) },
      firing: z
        .object({ firedOn: z.iso.date(), kiln: z.string(), schedule: z.string(), cone: z.string() })
        .nullable()
        .default(null),
    }),
  ),
});
type Seeds = z.output<typeof MixesFile>;
type Deed = { at: string; run(now: Date): Promise<unknown> };

type Load = { tx: Transaction; shift: Shift; names: IdRegistry };

/** What the studio mixes itself, and the tiles it fired. */
export async function mixAndTest(load: Load): Promise<void> {
  const { tx, shift, names } = load;
  const seeds = MixesFile.parse(JSON.parse(await readFile(FILE, 'utf8')));
  const opened = shift.moment(seeds.lots[0]?.at ?? '');
  for (const { hazardNote, ...material } of seeds.materials) {
    const moved = hazardNote ? { ...hazardNote, statedOn: shift.day(hazardNote.statedOn) } : null;
    const wanted = NewMaterial.parse({ ...material, hazardNote: moved });
    names.keep('material', material.name, await addMaterial(tx, opened, wanted));
  }
  const deeds = [...mixing(load, seeds), ...testing(load, seeds)];
  for (const { at, run } of deeds.sort((a, b) => a.at.localeCompare(b.at))) await run(shift.moment(at));
}

function mixing({ tx, shift, names }: Load, { lots, supplier, mixes, batches }: Seeds): Deed[] {
  const id = (name: string) => names.id('material', name);
  return [
    ...lots.map(({ at, material, ...lot }) => ({
      at,
      run: (now: Date) => {
        const receivedOn = shift.day(at.slice(0, 10));
        return receiveLot(tx, now, { ...lot, materialId: id(material), supplier, receivedOn });
      },
    })),
    ...mixes.map(({ at, product, parts, ...recipe }) => ({
      at,
      run: async (now: Date) => {
        const named = parts.map(([name, share]) => ({ materialId: id(name), share }));
        names.keep(
          'mix',
          product,
          await addMix(tx, now, NewMix.parse({ ...recipe, productId: id(product), parts: named })),
        );
      },
    })),
    ...batches.map(({ at, of, ...batch }) => ({
      at,
      run: (now: Date) => makeBatch(tx, now, names.id('mix', of), NewBatch.parse(batch)),
    })),
  ];
}

function testing({ tx, shift, names }: Load, { tiles }: Seeds): Deed[] {
  const firing = (told: Seeds['tiles'][number]['firing']) =>
    told && {
      ...{ firedOn: shift.day(told.firedOn), cone: told.cone },
      ...{ kilnId: names.id('kiln', told.kiln), scheduleId: names.id('schedule', told.schedule) },
    };
  return tiles.map(({ at, body, layers, firing: told, ...tile }) => ({
    at,
    run: (now: Date) => {
      const coats = layers.map(([name, coats, way]) => ({ materialId: names.id('material', name), coats, way }));
      const wanted = { ...tile, bodyId: names.id('material', body), layers: coats, firing: firing(told) };
      return addTile(tx, now, NewTile.parse(wanted));
    },
  }));
}

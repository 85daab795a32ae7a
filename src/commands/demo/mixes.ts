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

/** What the studio mixed itself over the year, and the tiles it fired: nothing of it touches what the courses drew. */
export async function mixAndTest(tx: Transaction, shift: Shift): Promise<void> {
  const seeds = MixesFile.parse(JSON.parse(await readFile(FILE, 'utf8')));
  const opened = shift.moment(seeds.lots[0]?.at ?? '');
  for (const { hazardNote, ...material } of seeds.materials) {
    const moved = hazardNote ? { ...hazardNote, statedOn: shift.day(hazardNote.statedOn) } : null;
    await addMaterial(tx, opened, NewMaterial.parse({ ...material, hazardNote: moved }));
  }
  const deeds = [...mixing(tx, seeds, shift), ...testing(tx, seeds, shift)];
  for (const { at, run } of deeds.sort((a, b) => a.at.localeCompare(b.at))) await run(shift.moment(at));
}

function mixing(tx: Transaction, { lots, supplier, mixes, batches }: Seeds, shift: Shift): Deed[] {
  const id = async (name: string) => (await tx.material.findUniqueOrThrow({ where: { name } })).id;
  const made = new Map<string, string>();
  return [
    ...lots.map(({ at, material, ...lot }) => ({
      at,
      run: async (now: Date) =>
        receiveLot(tx, now, {
          ...lot,
          materialId: await id(material),
          supplier,
          receivedOn: shift.day(at.slice(0, 10)),
        }),
    })),
    ...mixes.map(({ at, product, parts, ...recipe }) => ({
      at,
      run: async (now: Date) => {
        const named = await Promise.all(parts.map(async ([name, share]) => ({ materialId: await id(name), share })));
        const mix = await addMix(tx, now, NewMix.parse({ ...recipe, productId: await id(product), parts: named }));
        made.set(product, mix.id);
      },
    })),
    ...batches.map(({ at, of, ...batch }) => ({
      at,
      run: (now: Date) => makeBatch(tx, now, made.get(of) ?? '', NewBatch.parse(batch)),
    })),
  ];
}

function testing(tx: Transaction, { tiles }: Seeds, shift: Shift): Deed[] {
  const material = async (name: string) => (await tx.material.findUniqueOrThrow({ where: { name } })).id;
  const firing = async (told: Seeds['tiles'][number]['firing']) => {
    if (told === null) return null;
    const kiln = await tx.kiln.findUniqueOrThrow({ where: { name: told.kiln } });
    const schedule = await tx.schedule.findUniqueOrThrow({ where: { name: told.schedule } });
    return { firedOn: shift.day(told.firedOn), kilnId: kiln.id, scheduleId: schedule.id, cone: told.cone };
  };
  return tiles.map(({ at, body, layers, firing: told, ...tile }) => ({
    at,
    run: async (now: Date) => {
      const coats = layers.map(async ([name, coats, way]) => ({ materialId: await material(name), coats, way }));
      const wanted = {
        ...tile,
        bodyId: await material(body),
        layers: await Promise.all(coats),
        firing: await firing(told),
      };
      await addTile(tx, now, NewTile.parse(wanted));
    },
  }));
}

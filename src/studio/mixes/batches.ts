import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDate, toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { Problem } from '../../problems.js';
import { type Batch, weighOut } from '../../trade/materials/mix.js';
import { askingForCount } from '../materials/queries.js';
import { draw, receiveLot } from '../materials/service.js';
import { lock, today } from '../materials/stock-moves.js';
import { studio } from '../settings/service.js';
import type { Mix, MixBatch, NewBatch } from './contract.js';
import { leftOf, lockBatchNumber } from './queries.js';
import { mix } from './service.js';

/** Mixes a batch: its parts leave the shelf, first in first out, and what they cost is what its lot costs. */
export async function makeBatch(tx: Transaction, now: Date, mixId: string, wanted: NewBatch): Promise<MixBatch> {
  const recipe = await mix(tx, mixId);
  const weighed = weighedOut(recipe, wanted.makeGrams);
  const parts = recipe.parts.map(({ materialId }, i) => ({ materialId, ...partOf(weighed, i), ordinal: i + 1 }));
  const productId = recipe.product.id;
  // all in one order before anything is drawn: a batch of what is a part here could wait for this one otherwise
  for (const id of [productId, ...parts.map(({ materialId }) => materialId)].sort()) await lock(tx, id);
  const number = (await lockBatchNumber(tx)) + 1;
  const note = `Mixed into batch ${number} of ${recipe.product.name}`;
  const drawn = [];
  for (const { materialId, quantity } of parts) drawn.push(await draw(tx, now, { materialId, quantity, note }));
  const madeOn = await today(tx, now);
  const lot = await receiveLot(tx, now, {
    materialId: productId,
    supplier: (await studio(tx)).name,
    receivedOn: madeOn,
    quantity: wanted.measuredQuantity ?? weighed.yieldQuantity,
    costMinor: drawn.reduce((sum, { costMinor }) => sum + costMinor, 0),
  });
  const id = newId();
  await tx.mixBatch.create({
    data: {
      ...{ id, number, versionId: await versionId(tx, recipe), lotId: lot.id, makeGrams: wanted.makeGrams },
      ...{ addWaterMl: weighed.addWaterMl, litreGrams: weighed.litreGrams },
      measuredLitreGrams: wanted.measuredLitreGrams ?? null,
      ...{ madeOn: toDate(madeOn), note: wanted.note ?? '', createdAt: now },
    },
  });
  await tx.mixBatchPart.createMany({ data: parts.map((part) => ({ batchId: id, ...part })) });
  const moveIds = drawn.flatMap(({ moveIds }) => moveIds);
  await tx.mixDraw.createMany({ data: moveIds.map((moveId) => ({ moveId, batchId: id })) });
  return batch(tx, id);
}

/** What a batch of a mix weighs; refused where its parts can't be weighed any more, or are too little to be. */
export function weighedOut(recipe: Mix, makeGrams: number): Batch {
  try {
    return weighOut(recipe, makeGrams);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new Problem('invalid-request', error.message, {
      errors: [{ pointer: '#/makeGrams', detail: error.message }],
    });
  }
}

function partOf({ parts }: Batch, i: number) {
  const { weighGrams = 0, quantity = 0 } = parts[i] ?? {};
  return { weighGrams, quantity };
}

async function versionId(tx: Transaction, { id: mixId, version: number }: Mix): Promise<string> {
  return (await tx.mixVersion.findUniqueOrThrow({ where: { mixId_number: { mixId, number } } })).id;
}

const WHOLE = {
  version: { include: { mix: { include: { product: true } } } },
  lot: true,
  parts: { orderBy: { ordinal: 'asc' }, include: { material: true } },
  undoing: true,
} as const satisfies Prisma.MixBatchInclude;
type Row = Prisma.MixBatchGetPayload<{ include: typeof WHOLE }>;

/** A batch by id, with what is left of it. */
export async function batch(tx: Transaction, id: string): Promise<MixBatch> {
  const row = await tx.mixBatch.findUnique({ where: { id }, include: WHOLE });
  if (!row) throw new Problem('not-found', 'No batch has this id. Look it up under the mix it is of.');
  const [shown] = await showAll(tx, [row]);
  return shown as MixBatch;
}

/** The batches of a mix, oldest first, each by the version it was made by. */
export async function batches(tx: Transaction, mixId: string, query: PageQuery) {
  await mix(tx, mixId);
  const rows = await tx.mixBatch.findMany({ include: WHOLE, ...pageArgs(query, { version: { mixId } }) });
  const { items, next } = page(rows, query, (row) => row);
  return { items: await showAll(tx, items), next };
}

async function showAll(tx: Transaction, rows: Row[]): Promise<MixBatch[]> {
  const left = await leftOf(
    tx,
    rows.map(({ lotId }) => lotId),
  );
  const ids = [...new Set(rows.flatMap(({ parts }) => parts.map(({ materialId }) => materialId)))];
  const asking = await askingForCount(tx, ids);
  return rows.map((row) => show(row, left.get(row.lotId) ?? 0, asking));
}

function show({ version, lot, parts, undoing, ...row }: Row, left: number, asking: ReadonlySet<string>): MixBatch {
  const { product } = version.mix;
  return {
    ...{ id: row.id, number: row.number, mixId: version.mixId, version: version.number, lotId: row.lotId, left },
    ...{ materialId: product.id, name: product.name, unit: product.unit, quantity: lot.quantity },
    ...{ makeGrams: row.makeGrams, addWaterMl: row.addWaterMl, litreGrams: row.litreGrams },
    measuredLitreGrams: row.measuredLitreGrams,
    madeOn: fromDate(row.madeOn),
    note: row.note === '' ? null : row.note,
    parts: parts.map(({ materialId, material, weighGrams, quantity }) => ({
      ...{ materialId, name: material.name, unit: material.unit, weighGrams, quantity },
      asksForCount: asking.has(materialId),
    })),
    undoing: undoing === null ? null : { at: undoing.at.toISOString(), note: undoing.note },
  };
}

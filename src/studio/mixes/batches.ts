import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDate, toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { Problem } from '../../problems.js';
import { type WeighedBatch, weighOut } from '../../trade/materials/mix.js';
import { listAskingForCount } from '../materials/queries.js';
import { drawMaterial, receiveLot } from '../materials/service.js';
import { getStudioDay, lockMaterialStock } from '../materials/stock-moves.js';
import { getStudio } from '../settings/service.js';
import type { Mix, MixBatch, NewBatch } from './contract.js';
import { getRemaining, lockBatchNumber } from './queries.js';
import { getMix } from './service.js';

/** Mixes a batch: its parts leave the shelf, first in first out, and what they cost is what its lot costs. */
export async function makeBatch(tx: Transaction, now: Date, mixId: string, wanted: NewBatch): Promise<MixBatch> {
  const mix = await getMix(tx, mixId);
  const weighed = getWeighedOut(mix, wanted.makeGrams);
  const parts = mix.parts.map(({ materialId }, i) => ({ materialId, ...partOf(weighed, i), ordinal: i + 1 }));
  const productId = mix.product.id;
  // all in one order before anything is drawn: a batch of what is a part here could wait for this one otherwise
  for (const id of [productId, ...parts.map(({ materialId }) => materialId)].sort()) await lockMaterialStock(tx, id);
  const number = (await lockBatchNumber(tx)) + 1;
  const note = `Mixed into batch ${number} of ${mix.product.name}`;
  const drawn = [];
  for (const { materialId, quantity } of parts) drawn.push(await drawMaterial(tx, now, { materialId, quantity, note }));
  const madeOn = await getStudioDay(tx, now);
  const lot = await receiveLot(tx, now, {
    materialId: productId,
    supplier: (await getStudio(tx)).name,
    receivedOn: madeOn,
    quantity: wanted.measuredQuantity ?? weighed.yieldQuantity,
    costMinor: drawn.reduce((sum, { costMinor }) => sum + costMinor, 0),
  });
  const id = newId();
  await tx.mixBatch.create({
    data: {
      ...{ id, number, versionId: await versionId(tx, mix), lotId: lot.id, makeGrams: wanted.makeGrams },
      ...{ addWaterMl: weighed.addWaterMl, litreGrams: weighed.litreGrams },
      measuredLitreGrams: wanted.measuredLitreGrams ?? null,
      ...{ madeOn: toDate(madeOn), note: wanted.note ?? '', createdAt: now },
    },
  });
  await tx.mixBatchPart.createMany({ data: parts.map((part) => ({ batchId: id, ...part })) });
  const moveIds = drawn.flatMap(({ moveIds }) => moveIds);
  await tx.mixDraw.createMany({ data: moveIds.map((moveId) => ({ moveId, batchId: id })) });
  return getBatch(tx, id);
}

/** What a batch of a mix weighs; refused where its parts can't be weighed any more, or are too little to be. */
export function getWeighedOut(mix: Mix, makeGrams: number): WeighedBatch {
  try {
    return weighOut(mix, makeGrams);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new Problem('invalid-request', error.message, {
      errors: [{ pointer: '#/makeGrams', detail: error.message }],
    });
  }
}

function partOf({ parts }: WeighedBatch, i: number) {
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
export async function getBatch(tx: Transaction, id: string): Promise<MixBatch> {
  const row = await tx.mixBatch.findUnique({ where: { id }, include: WHOLE });
  if (!row) throw new Problem('not-found', 'No batch has this id. Look it up under the mix it is of.');
  const [shown] = await showAll(tx, [row]);
  return shown as MixBatch;
}

/** The batches of a mix, oldest first, each by the version it was made by. */
export async function listBatches(tx: Transaction, mixId: string, query: PageQuery) {
  await getMix(tx, mixId);
  const rows = await tx.mixBatch.findMany({ include: WHOLE, ...pageArgs(query, { version: { mixId } }) });
  const { items, next } = page(rows, query, (row) => row);
  return { items: await showAll(tx, items), next };
}

async function showAll(tx: Transaction, rows: Row[]): Promise<MixBatch[]> {
  const left = await getRemaining(
    tx,
    rows.map(({ lotId }) => lotId),
  );
  const ids = [...new Set(rows.flatMap(({ parts }) => parts.map(({ materialId }) => materialId)))];
  const asking = await listAskingForCount(tx, ids);
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

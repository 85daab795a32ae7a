import type { Transaction } from '../../database/transaction.js';
import { toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { Problem, see } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { fifoDraw, type LotDraw } from '../../trade/stock/fifo.js';
import { getStudio } from '../settings/service.js';
import { insertStockMoves, listOpenLots, lockMaterial } from './queries.js';

/** Locks a material before its stock is looked at. */
export async function lockMaterialStock(tx: Transaction, materialId: string): Promise<void> {
  if (!(await lockMaterial(tx, materialId)))
    throw new Problem(
      'not-found',
      'No material has this id. Look for it on the page Shelf.',
      see('shelf', '/api/materials'),
    );
}

/** The day it is in the studio. */
export async function getStudioDay(tx: Transaction, now: Date): Promise<string> {
  return localDay(now, (await getStudio(tx)).timeZone);
}

interface Taking {
  materialId: string;
  quantity: number;
  kind: 'drawn' | 'wasted' | 'missing' | 'sold';
  note: string;
  stocktakeId: string | null;
}

/** Takes stock out, first in, first out, as far as the books hold it. Call under the material's lock. */
export async function takeFromStock(tx: Transaction, now: Date, { quantity, ...taking }: Taking) {
  const { draws, shortBy } = fifoDraw(await listOpenLots(tx, taking.materialId), quantity);
  const moves = draws.map((draw) => ({
    id: newId(),
    at: now,
    ...taking,
    lotId: draw.lotId,
    quantity: -draw.quantity,
    costMinor: 0 - draw.costMinor, // never -0
  }));
  await insertStockMoves(tx, moves);
  return { moveIds: moves.map((move) => move.id), costMinor: draws.reduce((sum, d) => sum + d.costMinor, 0), shortBy };
}

/** Puts parts of lots back that had been sold, at the very cost at which they went. Call under the material's lock. @returns ids of the moves */
export async function returnToStock(
  tx: Transaction,
  now: Date,
  { materialId, parts, note }: { materialId: string; parts: readonly LotDraw[]; note: string },
): Promise<string[]> {
  const moves = parts.map((part) => ({ id: newId(), materialId, kind: 'takenBack' as const, ...part, at: now, note }));
  await insertStockMoves(tx, moves);
  return moves.map(({ id }) => id);
}

interface Arrival {
  materialId: string;
  supplier: string | null;
  receivedOn: string;
  quantity: number;
  costMinor: number;
  kind: 'received' | 'found' | 'reclaimed' | 'unmixed';
  note: string;
  stocktakeId: string | null;
  consignmentId?: string | undefined;
}

/** Enters a lot and the move that puts it on the shelf. Call under the material's lock. */
export async function addLot(tx: Transaction, now: Date, arrival: Arrival): Promise<string> {
  const [lotId = ''] = await addLots(tx, now, [arrival]);
  return lotId;
}

/** As addLot, of many lots in two statements. @returns their ids, in order */
export async function addLots(tx: Transaction, now: Date, arrivals: readonly Arrival[]): Promise<string[]> {
  const entered = arrivals.map((arrival) => ({ lotId: newId(), ...arrival }));
  await tx.lot.createMany({
    data: entered.map(
      ({ lotId: id, kind: _, note: __, stocktakeId: ___, consignmentId = null, receivedOn, ...held }) => ({
        ...{ id, ...held, consignmentId, receivedOn: toDate(receivedOn), createdAt: now },
      }),
    ),
  });
  await insertStockMoves(
    tx,
    entered.map(({ supplier: _, receivedOn: __, consignmentId: ___, ...move }) => ({ id: newId(), ...move, at: now })),
  );
  return entered.map(({ lotId }) => lotId);
}

/** Enters what was there though no books knew of it: a lot of today, without supplier or cost. */
export async function addFoundStock(
  tx: Transaction,
  now: Date,
  found: Pick<Arrival, 'materialId' | 'quantity' | 'note' | 'stocktakeId'>,
): Promise<void> {
  const receivedOn = await getStudioDay(tx, now);
  await addLot(tx, now, { ...found, supplier: null, receivedOn, costMinor: 0, kind: 'found' });
}

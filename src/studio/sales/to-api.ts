import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { page } from '../../http/paging.js';
import { Problem, see } from '../../problems.js';
import { vatInside } from '../../trade/money/tax.js';
import { taxOf } from '../accounts/charges/charge-state.js';
import { type ChargeState, getChargeStates } from '../accounts/queries.js';
import type { Sale, SaleQuery } from './contract.js';

/** A sale by id, refused with a sentence where there is none. */
export async function getSale(tx: Transaction, id: string): Promise<Sale> {
  const row = await tx.sale.findUnique({ where: { id }, include: WHOLE });
  if (!row)
    throw new Problem('not-found', 'No sale has this id. Look for it on the page Shelf.', see('shelf', '/api/sales'));
  return show(row, await getChargeStates(tx, [row.chargeId]));
}

/** The latest sales first: whoever looks one up wants what happened lately. `after` goes further back. */
export async function listSales(tx: Transaction, query: SaleQuery) {
  const { limit, after, personId, materialId } = query;
  const rows = await tx.sale.findMany({
    where: {
      ...(personId && { charge: { personId } }),
      ...(materialId && { materialId }),
      ...(after && { id: { lt: after } }),
    },
    include: WHOLE,
    orderBy: { id: 'desc' },
    take: limit + 1,
  });
  const states = await getChargeStates(
    tx,
    rows.map(({ chargeId }) => chargeId),
  );
  return page(rows, query, (row) => show(row, states));
}

const WHOLE = {
  membershipClay: { select: { grams: true } },
  material: { select: { name: true, unit: true } },
  charge: { include: { person: { select: { name: true } } } },
  takingsBack: {
    orderBy: { id: 'asc' },
    include: { credit: { select: { amountMinor: true, creditNote: { select: { documentId: true } } } } },
  },
} as const satisfies Prisma.SaleInclude;

function show(row: Prisma.SaleGetPayload<{ include: typeof WHOLE }>, states: Map<string, ChargeState>): Sale {
  const { id, at, chargeId, materialId, material, quantity, priceMinor, note, charge, takingsBack } = row;
  const { creditedMinor = 0, paidMinor = 0, owedMinor = 0 } = states.get(chargeId) ?? {};
  return {
    ...{ id, at: at.toISOString(), personId: charge.personId, personName: charge.person.name },
    ...{ materialId, materialName: material.name, unit: material.unit, quantity, priceMinor, note },
    keptQuantity: takingsBack.reduce((kept, back) => kept - back.quantity, quantity),
    includedQuantity: row.membershipClay?.grams ?? 0,
    ...{ chargeId, grossMinor: charge.grossMinor, creditedMinor, paidMinor, owedMinor },
    vatMinor: vatInside(charge.grossMinor, taxOf(charge)),
    taxName: charge.taxName,
    takingsBack: takingsBack.map(({ id, at, quantity, reason, credit }) => ({
      ...{ id, at: at.toISOString(), quantity, reason, creditedMinor: credit?.amountMinor ?? 0 },
      creditNoteDocumentId: credit?.creditNote?.documentId ?? null,
    })),
  };
}

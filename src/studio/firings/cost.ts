import type { Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import { Problem } from '../../problems.js';
import { studio } from '../settings/service.js';
import type { FiringCost } from './contract.js';
import { borneBy } from './rules.js';

const PERSON = { select: { name: true } } as const;

/** What a settled firing cost, and who bears which part of it. */
export async function firingCost(tx: Transaction, id: string): Promise<FiringCost> {
  const row = await tx.firing.findUnique({
    where: { id },
    include: {
      tariff: { select: { name: true } },
      placements: { select: { pieceId: true, outcome: true, studioPays: true } },
      shares: {
        orderBy: { id: 'asc' },
        include: { piece: { select: { code: true, firingPaidBy: true } }, person: PERSON },
      },
      firingCharges: {
        include: { charge: { select: { grossMinor: true } }, person: PERSON },
        orderBy: { personId: 'asc' },
      },
    },
  });
  if (!row) throw new Problem('not-found', 'No firing has this id. Look it up under /api/firings.');
  const { tariff, energyKwh, energyMinor, wearMinor, labourMinor, labourMinutes } = row;
  if (tariff === null || energyKwh === null || energyMinor === null || wearMinor === null || labourMinor === null)
    throw new Problem('wrong-state', `Firing ${row.number} is not settled yet: POST /api/firings/{id}/settlement.`);
  const placed = new Map(row.placements.map((placement) => [placement.pieceId, placement]));
  const shares = row.shares.flatMap(({ pieceId, personId, piece, person, weightMm3, amountMinor }) => {
    const placement = placed.get(pieceId ?? '');
    if (pieceId === null || personId === null || !piece || !person || !placement) return [];
    const { code, firingPaidBy } = piece;
    const borne = borneBy({ ...placement, firingPaidBy });
    return [
      {
        ...{ pieceId, code, personId, personName: person.name, weightMm3: Number(weightMm3), amountMinor },
        borneBy: borne,
      },
    ];
  });
  return {
    ...{ firingId: id, number: row.number, currency: (await studio(tx)).currency },
    ...{ energyKwh: fromDecimal(energyKwh), tariffName: tariff.name, labourMinutes },
    ...{ energyMinor, wearMinor, labourMinor, costMinor: energyMinor + wearMinor + labourMinor },
    studioMinor: row.shares.find(({ pieceId }) => pieceId === null)?.amountMinor ?? 0,
    shares,
    charges: row.firingCharges.map(({ personId, chargeId, charge, person }) => ({
      ...{ personId, personName: person.name, chargeId, grossMinor: charge.grossMinor },
    })),
  };
}

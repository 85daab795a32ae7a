import type { Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { type EmptySpace, splitFiring } from '../../trade/firing/cost-split.js';
import { energyDrawn } from '../../trade/firing/metered-energy.js';
import { tariffCostMinor } from '../../trade/firing/tariff.js';
import { Decimal, roundHalfUp } from '../../trade/money/money.js';
import { assertAmount } from '../accounts/charges/assert-amount.js';
import { findTariffOn, getKiln, getWearMinor } from '../kilns/service.js';
import { getStudio } from '../settings/service.js';
import type { FiringCost, Settlement } from './contract.js';
import { getFiringCost } from './cost.js';
import { getUsualFill, getUsualMm3 } from './fill.js';
import { assertFiringState, lockFiring } from './firing.js';
import { getLoadedWare, type LoadedPiece } from './loaded-ware.js';
import { judgeReadings } from './meter.js';
import { insertShares } from './queries.js';

/**
 * Works out what a firing cost (energy by its meter under the tariff of the day on which it started, wear, labour at the studio's wage)
 * and who bears which part of it, by the room each piece took. A firing that failed is all the studio's, and stays failed.
 *
 * @throws Problem reading-missing, reading-impossible or tariff-missing where the energy can't be known
 */
export async function settleFiring(
  tx: Transaction,
  id: string,
  wanted: Pick<Settlement, 'labourMinutes'>,
): Promise<FiringCost> {
  const row = await lockFiring(tx, id);
  const open = row.energyKwh === null ? (['unloaded', 'failed'] as const) : [];
  assertFiringState(row, open, 'A firing is settled once, after its unloading is recorded.');
  const studio = await getStudio(tx);
  const kiln = await getKiln(tx, row.kilnId);
  const fired = { startedAt: row.startedAt ?? row.plannedFrom, endedAt: row.endedAt ?? row.plannedTo };
  const readings = (await tx.reading.findMany({ where: { firingId: id }, orderBy: { at: 'asc' } })).map((reading) => ({
    ...{ at: reading.at, kwh: fromDecimal(reading.kwh) },
  }));
  judgeReadings({ number: row.number, ratedKw: kiln.ratedKw, studio, fired }, readings);

  const tariff = await findTariffOn(tx, localDay(fired.startedAt, studio.timeZone));
  const { kwh, slots } = energyDrawn(readings, fired, studio.timeZone);
  const labourMinutes = wanted.labourMinutes ?? row.labourMinutes;
  const cost = {
    energyMinor: tariffCostMinor(slots, tariff.bands).amountMinor,
    wearMinor: getWearMinor(kiln, row.schedule.kind),
    labourMinor: roundHalfUp(new Decimal(labourMinutes).times(studio.wagePerHourMinor).div(60)),
  };
  const { kind } = row.schedule;
  const ware = row.state === 'failed' ? [] : await getLoadedWare(tx, [{ id, kind }]);
  const costMinor = cost.energyMinor + cost.wearMinor + cost.labourMinor;
  assertAmount(costMinor, studio);
  const usualFillPercent = (await getUsualFill(tx, kiln, kind, fired.startedAt)).percent;
  const shared = { usualFillPercent, emptySpace: studio.emptySpace };
  const shares = sharesOf({ costMinor, chamberMm3: kiln.chamberMm3, ...shared, ware });
  await insertShares(
    tx,
    shares.map((share) => ({ id: newId(), firingId: id, ...share })),
  );
  const state = row.state === 'failed' ? 'failed' : 'settled';
  await tx.firing.update({
    where: { id },
    data: { state, tariffId: tariff.id, energyKwh: kwh, labourMinutes, ...cost, ...shared },
  });
  return getFiringCost(tx, id);
}

type ShareRow = { pieceId: string | null; personId: string | null; weightMm3: number; amountMinor: number };

/** A row for each piece and one for the studio; they add up to the cost. */
export function sharesOf(firing: {
  costMinor: number;
  chamberMm3: number;
  usualFillPercent: string;
  emptySpace: EmptySpace;
  ware: readonly Pick<LoadedPiece, 'pieceId' | 'makerId' | 'roomMm3'>[];
}): ShareRow[] {
  const { ware, usualFillPercent, ...rest } = firing;
  const split = splitFiring({
    ...rest,
    usualMm3: getUsualMm3(firing.chamberMm3, usualFillPercent),
    pieces: ware.map(({ pieceId, roomMm3 }) => ({ id: pieceId, volumeMm3: roomMm3 })),
  });
  const shares = split.shares.map(({ id, weightMm3, amountMinor }, i) => ({
    ...{ pieceId: id, personId: ware[i]?.makerId ?? null, weightMm3, amountMinor },
  }));
  return [...shares, { pieceId: null, personId: null, weightMm3: split.emptyMm3, amountMinor: split.studioMinor }];
}

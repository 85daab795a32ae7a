import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { stagesFor, takes } from '../../trade/firing/firing-outcomes.js';
import { isLustre } from '../../trade/firing/ware-stages.js';
import { outsideRange } from '../../trade/materials/firing-range.js';
import { getSchedule } from '../kilns/service.js';
import { getMaterialsById } from '../materials/service.js';
import type { Piece } from '../ware/contract.js';
import { listLayers, lockPieces } from '../ware/service.js';
import type { NewPlacement } from './contract.js';
import { assertFiringState, lockFiring } from './firing.js';
import { insertPlacements } from './queries.js';
import { listNames } from './request-checks.js';

type ToBeFired = { id: string; number: number; scheduleId: string };

/** Puts ware into a planned firing, layer by layer. What was loaded before and is not named again is out. */
export async function loadFiring(tx: Transaction, id: string, placements: readonly NewPlacement[]): Promise<void> {
  const row = await lockFiring(tx, id);
  assertFiringState(row, ['planned'], 'Ware is loaded before a firing starts: plan another one for it.');
  await judgeLoad(tx, row, placements);
  await tx.placement.deleteMany({ where: { firingId: id } });
  await insertPlacements(
    tx,
    placements.map((placement) => ({ firingId: id, ...placement })),
  );
}

/** Locks the ware, and refuses a load of which some piece is elsewhere, not at a stage for this firing, or not made for its heat. */
export async function judgeLoad(
  tx: Transaction,
  into: ToBeFired,
  placements: readonly Pick<NewPlacement, 'pieceId' | 'hotterBecause'>[],
): Promise<Piece[]> {
  const ids = placements.map(({ pieceId }) => pieceId);
  const ware = await lockPieces(tx, ids);
  await refuseElsewhere(tx, into, ware);
  const { kind } = await getSchedule(tx, into.scheduleId);
  const wrong = ware.filter((piece) => !takes(kind, piece.stage));
  if (wrong.length > 0) {
    const named = listNames(wrong.map((piece) => `${piece.code} (${piece.stage})`));
    throw new Problem('wrong-stage', `A ${kind} firing takes ware that is ${stagesFor(kind)}. Take out ${named}.`, {
      pieceIds: wrong.map((piece) => piece.id),
    });
  }
  if (kind !== 'lustre') await refuseLustred(tx, ware, placements);
  await refuseHeat(tx, into, ware, placements);
  return ware;
}

async function refuseElsewhere(tx: Transaction, into: ToBeFired, ware: readonly Piece[]): Promise<void> {
  const elsewhere = await tx.placement.findFirst({
    where: {
      pieceId: { in: ware.map(({ id }) => id) },
      firing: { state: { in: ['planned', 'firing'] }, id: { not: into.id } },
    },
    select: { pieceId: true, firing: { select: { number: true } } },
  });
  if (!elsewhere) return;
  const code = ware.find(({ id }) => id === elsewhere.pieceId)?.code;
  throw new Problem(
    'in-another-kiln',
    `${code} is already in firing ${elsewhere.firing.number}. Take it out there, or leave it out here.`,
    { pieceId: elsewhere.pieceId },
  );
}

async function refuseLustred(
  tx: Transaction,
  ware: readonly Piece[],
  placements: readonly Pick<NewPlacement, 'pieceId' | 'hotterBecause'>[],
): Promise<void> {
  const unexplained = placements.filter((one) => one.hotterBecause === null).map((one) => one.pieceId);
  const lustred = await tx.placement.findFirst({
    where: { pieceId: { in: unexplained }, outcome: 'good', firing: { schedule: { kind: 'lustre' } } },
  });
  if (!lustred) return;
  const code = ware.find(({ id }) => id === lustred.pieceId)?.code;
  throw new Problem(
    'outside-range',
    `${code} has lustre on it, which would burn off. Take it out, or say why it goes in all the same.`,
    { pieceId: lustred.pieceId },
  );
}

/** Body and layers of each piece against the top of the schedule. A reason to go hotter speaks for the lustre alone. */
async function refuseHeat(
  tx: Transaction,
  into: ToBeFired,
  ware: readonly Piece[],
  placements: readonly Pick<NewPlacement, 'pieceId' | 'hotterBecause'>[],
): Promise<void> {
  const schedule = await getSchedule(tx, into.scheduleId);
  const layers = await listLayers(
    tx,
    ware.map(({ id }) => id),
  );
  const madeOf = (piece: Piece) => [
    ...(piece.clayId === null ? [] : [piece.clayId]),
    ...(layers.get(piece.id) ?? []).map((layer) => layer.materialId),
  ];
  const materials = await getMaterialsById(tx, [...new Set(ware.flatMap(madeOf))]);
  const explained = new Set(placements.filter((one) => one.hotterBecause !== null).map((one) => one.pieceId));
  for (const piece of ware)
    for (const id of madeOf(piece)) {
      const made = materials.get(id);
      const reason = made && outsideRange(made, schedule);
      if (!reason || (isLustre(made) && explained.has(piece.id))) continue;
      throw new Problem(
        'outside-range',
        `${piece.code} can't go in: ${reason} Take it out, or choose another schedule.`,
        { pieceId: piece.id },
      );
    }
}

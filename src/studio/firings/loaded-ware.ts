import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import { type FiringKind, kilnRoomMm3 } from '../../trade/firing/kiln-room.js';

/** A piece in a firing, with the room that it takes there. */
export type LoadedPiece = { firingId: string; pieceId: string; makerId: string; roomMm3: number };

/** What stood in firings, in the order of the pieces' ids: the one count of kiln room behind fills, shares and bills. */
export async function getLoadedWare(
  tx: Transaction,
  firings: readonly { id: string; kind: FiringKind }[],
): Promise<LoadedPiece[]> {
  const kindOf = new Map(firings.map(({ id, kind }) => [id, kind]));
  const placements = await tx.placement.findMany({
    where: { firingId: { in: [...kindOf.keys()] } },
    select: {
      firingId: true,
      pieceId: true,
      piece: { include: WITH_SHRINKAGE },
    },
    orderBy: { pieceId: 'asc' },
  });
  return placements.map(({ firingId, pieceId, piece }) => {
    const roomMm3 = roomOf(piece, kindOf.get(firingId) ?? 'glaze');
    return { firingId, pieceId, makerId: piece.makerId, roomMm3 };
  });
}

/** What of its clay says how much larger a piece is before the fire. */
export const WITH_SHRINKAGE = {
  clay: { select: { firingShrinkagePercent: true } },
} as const satisfies Prisma.PieceInclude;

/** The room that a piece takes in a kind of firing, in mm³. */
export function roomOf(
  { clay, ...size }: Prisma.PieceGetPayload<{ include: typeof WITH_SHRINKAGE }>,
  kind: FiringKind,
): number {
  const shrinkage = clay?.firingShrinkagePercent;
  return kilnRoomMm3({ ...size, firingShrinkagePercent: shrinkage ? fromDecimal(shrinkage) : null }, kind);
}

/** The room that all ware takes in each firing, in mm³, under the firing's id; 0 where nothing stands in it. */
export async function roomFilledMm3(
  tx: Transaction,
  firings: readonly { id: string; kind: FiringKind }[],
): Promise<Map<string, number>> {
  const sums = new Map(firings.map(({ id }) => [id, 0]));
  for (const { firingId, roomMm3 } of await getLoadedWare(tx, firings))
    sums.set(firingId, (sums.get(firingId) ?? 0) + roomMm3);
  return sums;
}

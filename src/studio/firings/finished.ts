import type { Transaction } from '../../database/transaction.js';
import type { CollectionContent } from '../../documents/collection-content.js';
import { localDay } from '../../trade/calendar.js';
import { groupBy } from '../../trade/group-by.js';
import { schedule } from '../kilns/service.js';
import type { Material } from '../materials/contract.js';
import { material } from '../materials/service.js';
import type { Studio } from '../settings/contract.js';
import type { Piece } from '../ware/contract.js';
import { layersOf } from '../ware/service.js';
import { useOf } from './food-use.js';

type ReadyPiece = CollectionContent['pieces'][number];
const GOOD = { firing: { include: { schedule: { select: { kind: true } } } } } as const;

/** Pieces as a notice shows them: size, last firing, and what each may be used for. */
export async function finishedPieces(
  tx: Transaction,
  home: Studio,
  ware: readonly Piece[],
): Promise<Map<string, ReadyPiece>> {
  const ids = ware.map(({ id }) => id);
  const layers = await layersOf(tx, ids);
  const placements = await tx.placement.findMany({
    where: { pieceId: { in: ids }, outcome: 'good' },
    orderBy: { firing: { unloadedAt: 'asc' } },
    include: GOOD,
  });
  const firings = groupBy(
    placements.map(({ pieceId, firing }) => ({ pieceId, firing })),
    ({ pieceId }) => pieceId,
  );
  const wares = await byId(
    [...layers.values()].flat().map(({ materialId }) => materialId),
    (id) => material(tx, id),
  );
  const tops = await byId(
    placements.map(({ firing }) => firing.scheduleId),
    async (id) => (await schedule(tx, id)).topC,
  );

  return new Map(
    ware.map((piece) => {
      const past = (firings.get(piece.id) ?? []).map(({ firing }) => firing);
      const last = past.at(-1);
      const glazed = past.findLast((firing) => firing.schedule.kind === 'glaze');
      const food = (layers.get(piece.id) ?? []).filter((layer) => layer.foodSurface);
      const use = useOf({
        onFood: food.flatMap((layer) => wares.get(layer.materialId) ?? []) satisfies Material[],
        glazedAtC: (glazed && tops.get(glazed.scheduleId)) ?? null,
        lustred: past.some((firing) => firing.schedule.kind === 'lustre'),
      });
      const { code, description, form, widthMm, heightMm, measured } = piece;
      const shown: ReadyPiece = {
        ...{ code, description, form, widthMm, heightMm, use },
        sizeBasis: measured ? 'measured' : 'assumed',
        firing: last ? `${last.schedule.kind} firing ${last.number}` : 'fired elsewhere',
        firedOn: localDay(last?.startedAt ?? new Date(piece.createdAt), home.timeZone),
      };
      return [piece.id, shown];
    }),
  );
}

/** Looks each up once, however often it is named. */
async function byId<T>(ids: readonly string[], look: (id: string) => Promise<T>): Promise<Map<string, T>> {
  const found = new Map<string, T>();
  for (const id of new Set(ids)) found.set(id, await look(id));
  return found;
}

import type { Transaction } from '../../database/transaction.js';
import type { CollectionContent } from '../../documents/collection-content.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { isLustre } from '../../trade/firing/ware-stages.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { getSchedule } from '../kilns/service.js';
import { getMaterialsById } from '../materials/service.js';
import { listMixesMaking } from '../mixes/service.js';
import type { Studio } from '../settings/contract.js';
import type { Piece } from '../ware/contract.js';
import { listLayers } from '../ware/service.js';
import { type Finish, useOf } from './food-use.js';
import { listArrivals } from './queries.js';

type ReadyPiece = CollectionContent['pieces'][number];
const WITH = {
  firing: { include: { schedule: { select: { kind: true } } } },
} as const;

/** Pieces as a notice shows them: size, last firing, and what each may be used for. */
export async function listReadyPieces(
  tx: Transaction,
  studio: Studio,
  ware: readonly Piece[],
): Promise<Map<string, ReadyPiece>> {
  const ids = ware.map(({ id }) => id);
  const firings = await pastFirings(tx, ids);
  const finishes = await finishesOf(tx, ids, firings);
  return new Map(
    ware.map((piece) => {
      const last = (firings.get(piece.id) ?? []).findLast(({ outcome }) => outcome === 'good')?.firing;
      const { code, description, form, widthMm, heightMm, measured } = piece;
      const finish = finishes.get(piece.id);
      const shown: ReadyPiece = {
        ...{ code, description, form, widthMm, heightMm },
        use: finish ? useOf(finish) : { kind: 'decorative' },
        sizeBasis: measured ? 'measured' : 'assumed',
        firing: last ? `${last.schedule.kind} firing ${last.number}` : 'fired elsewhere',
        firedOn: localDay(last?.startedAt ?? new Date(piece.createdAt), studio.timeZone),
      };
      return [piece.id, shown];
    }),
  );
}

/** The firings that each piece came out of, the last one last. */
async function pastFirings(tx: Transaction, ids: readonly string[]) {
  const placements = await tx.placement.findMany({
    where: { pieceId: { in: [...ids] }, outcome: { not: null } },
    orderBy: { firing: { unloadedAt: 'asc' } },
    include: WITH,
  });
  return groupBy(placements, ({ pieceId }) => pieceId);
}

async function finishesOf(
  tx: Transaction,
  ids: readonly string[],
  firings: Awaited<ReturnType<typeof pastFirings>>,
): Promise<Map<string, Finish>> {
  const layers = await listLayers(tx, ids);
  const materialIds = [...new Set([...layers.values()].flat().map(({ materialId }) => materialId))];
  const materials = await getMaterialsById(tx, materialIds);
  const mixed = new Set((await listMixesMaking(tx, materialIds)).map(({ product }) => product.id));
  const tops = new Map<string, number>();
  for (const id of new Set([...firings.values()].flat().map(({ firing }) => firing.scheduleId)))
    tops.set(id, (await getSchedule(tx, id)).topC);
  const cameAs = await listArrivals(tx, ids);
  return new Map(
    ids.map((id) => {
      const own = (layers.get(id) ?? []).flatMap((layer) => {
        const material = materials.get(layer.materialId);
        return material ? [{ ...layer, material, homeMixed: mixed.has(layer.materialId) }] : [];
      });
      const past = (firings.get(id) ?? []).map(({ outcome, firing }) => ({
        ...{ kind: firing.schedule.kind, topC: tops.get(firing.scheduleId) ?? 0 },
        ...{ outcome: outcome ?? ('broken' as const), failed: firing.failedBecause !== null },
      }));
      const finish: Finish = {
        onFood: own.filter(({ foodSurface }) => foodSurface),
        firings: past,
        bisqued: cameAs.get(id)?.stage === 'bisque' || past.some(({ kind }) => kind === 'bisque'),
        cameGlazed: cameAs.get(id)?.stage === 'glazed',
        lustred: past.some(({ kind }) => kind === 'lustre') || own.some(({ material }) => isLustre(material)),
      };
      return [id, finish];
    }),
  );
}

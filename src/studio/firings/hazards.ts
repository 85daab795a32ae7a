import type { Transaction } from '../../database/transaction.js';
import { cautionsOf } from '../../documents/hazard-words.js';
import { SINGLE_FIRING } from '../../documents/kiln-words.js';
import type { FiringKind } from '../kilns/contract.js';
import { hazardsById } from '../materials/hazards.js';
import { listLayers } from '../ware/service.js';
import { listArrivals } from './queries.js';

type Load = { id: string; kind: FiringKind; pieceIds: readonly string[] };

/** What lies on the ware of each load and needs care in the fire, in sentences. */
export async function cautionsInKilns(
  tx: Transaction,
  loads: readonly Load[],
  locale: string,
): Promise<Map<string, string[]>> {
  const ids = loads.flatMap(({ pieceIds }) => pieceIds);
  if (ids.length === 0 && !loads.some(({ kind }) => kind === 'lustre')) return new Map();
  const layers = await listLayers(tx, ids);
  const hazards = await hazardsById(
    tx,
    [...layers.values()].flat().map(({ materialId }) => materialId),
  );
  const raw = await rawGlazed(tx, ids);
  return new Map(
    loads.map(({ id, kind, pieceIds }) => {
      const on = new Set(pieceIds.flatMap((pieceId) => layers.get(pieceId) ?? []).map(({ materialId }) => materialId));
      const own = [...on].flatMap((materialId) => hazards.get(materialId) ?? []);
      const unnoted = kind === 'lustre' && !own.some((hazard) => hazard.kind === 'lustre');
      const known = unnoted ? [...own, { name: 'Lustre', kind: 'lustre', warning: null }] : own;
      const single = kind === 'glaze' && pieceIds.some((pieceId) => raw.has(pieceId));
      return [id, [...(single ? [SINGLE_FIRING] : []), ...cautionsOf(known, locale)]];
    }),
  );
}

/** Ware that came in raw and was never bisqued: in a glaze firing, it is fired once. */
async function rawGlazed(tx: Transaction, pieceIds: readonly string[]): Promise<Set<string>> {
  const cameAs = await listArrivals(tx, pieceIds);
  const bisqued = await tx.pieceEvent.findMany({
    where: { pieceId: { in: [...pieceIds] }, stage: 'bisque' },
    distinct: ['pieceId'],
    select: { pieceId: true },
  });
  const once = new Set(bisqued.map(({ pieceId }) => pieceId));
  return new Set(
    pieceIds.filter((id) => {
      const stage = cameAs.get(id);
      return (stage === 'greenware' || stage === 'dry') && !once.has(id);
    }),
  );
}

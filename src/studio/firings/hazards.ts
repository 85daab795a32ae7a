import type { Transaction } from '../../database/transaction.js';
import { cautionsOf, type Hazard } from '../../documents/hazard-words.js';
import { SINGLE_FIRING } from '../../documents/kiln-words.js';
import { groupBy } from '../../trade/maths/group-by.js';
import type { FiringKind } from '../kilns/contract.js';
import { listArrivals, listLayerHazards } from './queries.js';

type Load = { id: string; kind: FiringKind; pieceIds: readonly string[] };

/** What lies on the ware of each load and needs care in the fire, in sentences. */
export async function cautionsInKilns(
  tx: Transaction,
  loads: readonly Load[],
  locale: string,
): Promise<Map<string, string[]>> {
  const ids = loads.flatMap(({ pieceIds }) => pieceIds);
  if (ids.length === 0 && !loads.some(({ kind }) => kind === 'lustre')) return new Map();
  const lying = groupBy(await listLayerHazards(tx, ids), ({ pieceId }) => pieceId);
  const raw = await rawGlazed(tx, ids);
  return new Map(
    loads.map(({ id, kind, pieceIds }) => {
      const on = new Map(pieceIds.flatMap((pieceId) => lying.get(pieceId) ?? []).map((of) => [of.materialId, of]));
      const own = [...on.values()].map(({ pieceId: _, materialId: __, ...hazard }): Hazard => hazard);
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
  return new Set(
    pieceIds.filter((id) => {
      const came = cameAs.get(id);
      return (came?.stage === 'greenware' || came?.stage === 'dry') && !came.wasBisqued;
    }),
  );
}

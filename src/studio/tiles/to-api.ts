import type { Prisma } from '../../database/generated/client.js';
import { fromDate } from '../../database/values.js';
import { isAsStated } from '../../trade/materials/manufacturer-statement.js';
import { statementOf } from '../materials/statement.js';
import type { Tile } from './contract.js';

/** What is read with a tile to show it. The photos' bytes stay where they are. */
export const TILE_INCLUDE = {
  body: true,
  kiln: true,
  schedule: { include: { segments: { select: { targetC: true } } } },
  layers: { orderBy: { ordinal: 'asc' }, include: { material: { include: { mix: true } } } },
  photos: { orderBy: { id: 'asc' }, select: { id: true, mediaType: true, addedAt: true } },
} as const satisfies Prisma.TestTileInclude;
type Row = Prisma.TestTileGetPayload<{ include: typeof TILE_INCLUDE }>;

export function toTile({ body, kiln, schedule, layers, photos, firedOn, cone, ...row }: Row): Tile {
  const { id, number, name, colour, surface, run, defects, notes } = row;
  return {
    ...{ id, number, name, body: named(body), colour, surface, run, defects, notes },
    layers: layers.map(({ materialId, coats, way, material }) => ({ materialId, name: material.name, coats, way })),
    firing:
      firedOn === null
        ? null
        : { firedOn: fromDate(firedOn), kiln: kiln && named(kiln), schedule: schedule && named(schedule), cone },
    photos: photos.map((photo) => ({ ...photo, addedAt: photo.addedAt.toISOString() })),
    manufacturerStatement: firedOn === null ? null : statementOn(layers, schedule),
  };
}

const named = ({ id, name }: { id: string; name: string }) => ({ id, name });

/**
 * A manufacturer speaks of their glaze alone: not of one under another, not of what somebody mixed with it, and only where it was put
 * on and fired as they ask. A tile of which nobody noted the schedule can't be compared.
 */
function statementOn(layers: Row['layers'], schedule: Row['schedule']): Tile['manufacturerStatement'] {
  const [only, second] = layers;
  if (!only || second || only.material.mix !== null || only.material.kind !== 'glaze' || schedule?.kind !== 'glaze')
    return null;
  const { name, firesFromC, firesToC } = only.material;
  const statement = statementOf(only.material);
  if (!statement?.asks) return null;
  const firingRange = firesFromC === null || firesToC === null ? null : { fromC: firesFromC, toC: firesToC };
  const topsC = [Math.max(...schedule.segments.map(({ targetC }) => targetC))];
  const { coats, way } = only;
  if (!isAsStated(statement.asks, { coats, way, firingRange, topsC })) return null;
  return { name, quote: statement.quote, statedOn: statement.statedOn };
}

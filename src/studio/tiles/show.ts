import type { Prisma } from '../../database/generated/client.js';
import { fromDate } from '../../database/values.js';
import type { Tile } from './contract.js';

/** What is read with a tile to show it. The photos' bytes stay where they are. */
export const WHOLE = {
  body: true,
  kiln: true,
  schedule: true,
  layers: { orderBy: { ordinal: 'asc' }, include: { material: { include: { mix: true } } } },
  photos: { orderBy: { id: 'asc' }, select: { id: true, mediaType: true, addedAt: true } },
} as const satisfies Prisma.TestTileInclude;
type Row = Prisma.TestTileGetPayload<{ include: typeof WHOLE }>;

export function show({ body, kiln, schedule, layers, photos, firedOn, cone, ...row }: Row): Tile {
  const { id, number, name, colour, surface, run, defects, notes } = row;
  return {
    ...{ id, number, name, body: named(body), colour, surface, run, defects, notes },
    layers: layers.map(({ materialId, coats, way, material }) => ({ materialId, name: material.name, coats, way })),
    firing:
      firedOn === null
        ? null
        : { firedOn: fromDate(firedOn), kiln: kiln && named(kiln), schedule: schedule && named(schedule), cone },
    photos: photos.map((photo) => ({ ...photo, addedAt: photo.addedAt.toISOString() })),
    makerStatement: statementOn(layers),
  };
}

const named = ({ id, name }: { id: string; name: string }) => ({ id, name });

/** A maker speaks of their glaze alone: not of one under another, and not of what somebody mixed with it. */
function statementOn(layers: Row['layers']): Tile['makerStatement'] {
  const [only, second] = layers;
  if (!only || second || only.material.mix !== null) return null;
  const { name, makerStatement, makerStatementOn } = only.material;
  if (makerStatement === null || makerStatementOn === null) return null;
  return { name, quote: makerStatement, statedOn: fromDate(makerStatementOn) };
}

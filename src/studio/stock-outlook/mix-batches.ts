import type { Transaction } from '../../database/transaction.js';
import { partsPerUnit } from '../../trade/materials/mix.js';
import { drawPlanOf, type PlannedDraw } from '../../trade/stock/demand.js';
import { drawsToMix, partDraw } from '../../trade/stock/mix-demand.js';
import type { Material } from '../materials/contract.js';
import type { LotLeft } from '../materials/queries.js';
import type { Mix } from '../mixes/contract.js';
import { listMixedHere } from '../mixes/service.js';
import type { CourseDemand, MaterialDemand } from './draws.js';

/** What is mixed here of some materials, each mix before those that are its parts; and all that goes into them, under its id. */
export type MixesFor = { mixes: Mix[]; parts: ReadonlyMap<string, Material>; materialIds: string[] };

export async function listMixesFor(tx: Transaction, materialIds: readonly string[]): Promise<MixesFor> {
  const here = await listMixedHere(tx);
  const making = (ids: Iterable<string>) => {
    const wanted = new Set(ids);
    return here.mixes.filter(({ product }) => wanted.has(product.id));
  };
  const outer = making(materialIds);
  const inner = making(partsOf(outer));
  const mixes = [...outer.filter((mix) => !inner.includes(mix)), ...inner];
  return {
    mixes,
    parts: here.parts,
    materialIds: [...new Set([...partsOf(mixes), ...mixes.map(({ product }) => product.id)])],
  };
}

const partsOf = (mixes: readonly Mix[]): string[] =>
  mixes.flatMap(({ parts }) => parts.map(({ materialId }) => materialId));

/**
 * The demands with what the batches to come draw: what is mixed here, sold in packs by nobody and runs short, is mixed, by its latest
 * recipe, out of parts that must be on the shelf on the day it is needed. A mix that is a part of another is mixed in turn. What would
 * spoil isn't counted on.
 */
export function addBatchDemands(
  direct: ReadonlyMap<string, MaterialDemand>,
  { mixes, parts: materialOf }: MixesFor,
  inStock: ReadonlyMap<string, number>,
): Map<string, MaterialDemand> {
  const demands = new Map(direct);
  for (const mix of mixes) {
    const own = demands.get(mix.product.id);
    if (!own) continue; // there is enough of what it would go into
    demands.set(mix.product.id, { ...own, mixId: mix.id });
    const courses = earliestFirst(own.courses);
    const toMix = drawsToMix(
      courses.map(({ demand }) => demand),
      inStock.get(mix.product.id) ?? 0,
    );
    for (const [i, perUnit] of partsPerUnit(mix).entries()) {
      const material = materialOf.get(mix.parts[i]?.materialId ?? '');
      if (!material) continue;
      const more = courses.flatMap((of, at) => {
        const draws = (toMix[at] ?? []).map((draw) => partDraw(draw, perUnit));
        return draws.length === 0 ? [] : [{ of, draws, mix: mix.product.name }];
      });
      if (more.length > 0)
        demands.set(material.id, joined(demands.get(material.id) ?? { material, courses: [], mixId: null }, more));
    }
  }
  return demands;
}

/** What is on hand and keeps, of each material. */
export function lasting(lots: readonly LotLeft[]): Map<string, number> {
  const found = new Map<string, number>();
  for (const { materialId, day, quantity } of lots)
    if (day === null) found.set(materialId, (found.get(materialId) ?? 0) + quantity);
  return found;
}

const earliestFirst = (courses: readonly CourseDemand[]): CourseDemand[] =>
  courses
    .map((of) => ({ of, first: drawPlanOf(of.demand).first }))
    .sort((a, b) => a.first.localeCompare(b.first))
    .map(({ of }) => of);

/** One count of students governs all that a course draws of a material, so that its draws stand in one demand. */
function joined(
  { courses, ...rest }: MaterialDemand,
  more: readonly { of: CourseDemand; draws: PlannedDraw[]; mix: string }[],
): MaterialDemand {
  const all = new Map(courses.map((one) => [one.course.id, one]));
  for (const { of, draws, mix } of more) {
    const known = all.get(of.course.id) ?? { course: of.course, demand: { ...of.demand, draws: [] }, mixes: [] };
    all.set(of.course.id, {
      ...known,
      demand: { ...known.demand, draws: [...known.demand.draws, ...draws] },
      mixes: [...known.mixes, mix],
    });
  }
  return { ...rest, courses: [...all.values()] };
}

import type { Transaction } from '../../database/transaction.js';
import { clayDrawnGrams, clayReclaimedGrams } from '../../trade/materials/clay.js';
import { glazeFor } from '../../trade/materials/coating.js';
import { Decimal } from '../../trade/money/money.js';
import { SOLD_BY } from '../../trade/money/sale-units.js';
import type { CostLine } from '../../trade/pricing/course-price.js';
import type { Plan } from '../courses/plan-contract.js';
import type { Material } from '../materials/contract.js';
import { getMaterialsById } from '../materials/service.js';
import { getUnitCosts } from '../mixes/costs.js';
import type { Studio } from '../settings/contract.js';
import { getRemakes, type Remakes } from './remakes.js';

/**
 * What one student draws of a material, in its base unit (g, ml or pieces), as an exact decimal string, and what of that comes back as
 * reclaim: later, so that the shelf must hold all of it on the day.
 */
export type Usage = {
  material: Material;
  quantity: string;
  reclaimed: string;
  use: 'clay' | 'glaze' | 'other';
  /** of what is made again, how much takes this too; none where left out */
  reachPercent?: string;
  /** how that is known, a sentence for the owner */
  again?: string;
};

/** What each student of a plan draws from the shelf, one entry per material, with offcuts, remakes and waste counted. */
export async function getUsagePerStudent(tx: Transaction, plan: Plan, studio: Studio): Promise<Usage[]> {
  return (await getUsages(tx, [plan], studio)).get(plan.id) ?? [];
}

/** The same for many plans, under their ids; their materials are read at once. */
export async function getUsages(
  tx: Transaction,
  plans: readonly Plan[],
  studio: Studio,
): Promise<Map<string, Usage[]>> {
  const materialOf = await getMaterialsById(tx, [...new Set(plans.flatMap(materialIdsOf))]);
  const remade = await getRemakes(tx, studio);
  return new Map(plans.map((plan) => [plan.id, usagesIn(plan, { materialOf, remade }, studio)]));
}

/** The materials that a plan's students use, by their ids. */
export const materialIdsOf = ({ pieces, materials }: Plan): string[] => [
  ...pieces.flatMap(({ clayId, glaze }) => [clayId ?? [], glaze?.materialId ?? []].flat()),
  ...materials.map(({ materialId }) => materialId),
];

type Known = { materialOf: ReadonlyMap<string, Material>; remade: Remakes };

function usagesIn(plan: Plan, { materialOf, remade }: Known, studio: Studio): Usage[] {
  const { reach } = remade;
  const again = {
    clay: { reachPercent: reach.making },
    glaze: { reachPercent: reach.glaze, again: remade.inWords('glaze') },
    other: {},
  };
  const found = new Map<string, Usage>();
  const add = (materialId: string, use: Usage['use'], quantityOf: (m: Material) => string | number) => {
    const material = materialOf.get(materialId);
    if (!material) throw new Error(`Plan ${plan.id} names material ${materialId}, which is not there.`);
    const known = found.get(materialId) ?? { material, quantity: '0', reclaimed: '0', use, ...again[use] };
    found.set(materialId, { ...known, quantity: new Decimal(known.quantity).plus(quantityOf(material)).toFixed() });
  };
  for (const piece of plan.pieces) {
    const { perStudent: pieces, wetMassGrams, glaze } = piece;
    if (piece.clayId !== null && wetMassGrams !== null)
      add(piece.clayId, 'clay', () => clayDrawnGrams({ pieces, wetMassGrams, ...studio }));
    if (!glaze) continue;
    const coating = { ...piece, pieces, gramsPerDm2: glaze.gramsPerDm2, wastePercent: studio.glazeWastePercent };
    add(glaze.materialId, 'glaze', (m) => remade.times('glaze').times(glazeFor(coating, m)).toFixed());
  }
  for (const { materialId, perStudent } of plan.materials) add(materialId, 'other', () => perStudent);
  return [...found.values()].map((usage) =>
    usage.use === 'clay'
      ? { ...usage, reclaimed: String(clayReclaimedGrams(usage.quantity, studio.reclaimedPercent)) }
      : usage,
  );
}

const DECIMALS = 6;

/** The cost lines of what each student draws, at what the next purchase costs, and the names of what has no price yet. */
export async function materialCostLines(
  tx: Transaction,
  usages: readonly Usage[],
): Promise<{ lines: CostLine[]; unpriced: string[] }> {
  const lines: CostLine[] = [];
  const unpriced: string[] = [];
  const costs = await getUnitCosts(
    tx,
    usages.map((usage) => usage.material.id),
  );
  for (const usage of usages) {
    const { material: m } = usage;
    const cost = costs.get(m.id);
    if (!cost) {
      unpriced.push(m.name);
      continue;
    }
    lines.push(...linesOf(usage, cost));
  }
  return { lines, unpriced };
}

/** What is drawn, and apart from it what comes back. */
function linesOf(usage: Usage, cost: Pick<CostLine, 'rateMinor' | 'source'>): CostLine[] {
  const { material: m, quantity, reclaimed, use } = usage;
  const { unit, per } = SOLD_BY[m.unit];
  const inUnits = (base: string) => new Decimal(base).div(per).toDecimalPlaces(DECIMALS).toFixed();
  const drawn: CostLine = {
    ...{ kind: 'material', materialId: m.id, use, isReclaim: false },
    ...{ key: `${use}-${m.id}`, label: m.name, basis: 'per-student', quantity: inUnits(quantity), unit },
    rateMinor: new Decimal(cost.rateMinor).times(per).toDecimalPlaces(DECIMALS).toFixed(),
    ...(usage.reachPercent === undefined ? {} : { reachPercent: usage.reachPercent }),
    source: { ...cost.source, detail: [cost.source.detail, usage.again ?? ''].join(' ').trim() },
  };
  if (Number(reclaimed) === 0) return [drawn];
  const back: CostLine = {
    ...drawn,
    ...{
      key: `${drawn.key}-reclaim`,
      isReclaim: true,
      label: `${m.name}, reclaimed`,
      quantity: inUnits(`-${reclaimed}`),
    },
    source: { kind: 'setting', detail: 'The reclaim in the settings: so much less needs to be bought.' },
  };
  return [drawn, back];
}

import type { Transaction } from '../../database/transaction.js';
import type { Hazard } from '../../documents/hazard-words.js';
import type { Purpose } from '../../trade/calendar/production-lead-time.js';
import { groupBy } from '../../trade/maths/group-by.js';
import type { MaterialKind } from '../materials/contract.js';
import { listPlanMaterials } from './queries.js';

const COLOURING = ['finishing', 'slip', 'glazing'] as const;
/** In which sessions a kind is used, as a rule. What fits none of a course's sessions is told of in all of them. */
const USED_IN: Partial<Record<MaterialKind, readonly Purpose[]>> = {
  ...{ lustre: ['lustre'], glaze: ['glazing'], glass: ['glazing'], wax: ['glazing', 'lustre'] },
  ...{ underglaze: COLOURING, oxide: COLOURING, stain: COLOURING },
  ...{ clay: ['making', 'finishing', 'slip'], slip: ['making', 'finishing', 'slip'] },
};

/** What the materials of each plan warn of: its clays and glazes, and all else that a student uses. */
export async function hazardsOfPlans(tx: Transaction, planIds: readonly string[]): Promise<Map<string, Hazard[]>> {
  const byPlan = groupBy(await listPlanMaterials(tx, planIds), ({ planId }) => planId);
  return new Map(
    [...byPlan].map(([planId, materials]) => [planId, materials.map(({ planId: _, ...hazard }): Hazard => hazard)]),
  );
}

/** Of those, what concerns a session, by what it and the others of its course are for. */
export function hazardsIn(hazards: readonly Hazard[], purpose: Purpose, all: readonly Purpose[]): Hazard[] {
  return hazards.filter(({ kind }) => {
    const purposes = USED_IN[kind as MaterialKind]?.filter((one) => all.includes(one)) ?? [];
    return purposes.length === 0 || purposes.includes(purpose);
  });
}

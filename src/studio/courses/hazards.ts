import type { Transaction } from '../../database/transaction.js';
import type { Hazard } from '../../documents/hazard-words.js';
import type { Purpose } from '../../trade/calendar/production-lead-time.js';
import { groupBy } from '../../trade/maths/group-by.js';
import type { MaterialKind } from '../materials/contract.js';
import { hazardsById } from '../materials/hazards.js';
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
  const used = await listPlanMaterials(tx, planIds);
  const found = await hazardsById(
    tx,
    used.map(({ materialId }) => materialId),
  );
  const byPlan = groupBy(used, ({ planId }) => planId);
  return new Map(
    [...byPlan].map(([planId, own]) => {
      const ids = [...new Set(own.map(({ materialId }) => materialId))];
      return [planId, ids.flatMap((id) => found.get(id) ?? [])];
    }),
  );
}

/** Of those, what concerns a session, by what it and the others of its course are for. */
export function hazardsIn(hazards: readonly Hazard[], purpose: Purpose, all: readonly Purpose[]): Hazard[] {
  return hazards.filter(({ kind }) => {
    const purposes = USED_IN[kind as MaterialKind]?.filter((one) => all.includes(one)) ?? [];
    return purposes.length === 0 || purposes.includes(purpose);
  });
}

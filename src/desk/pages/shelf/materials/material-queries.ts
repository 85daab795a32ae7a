import { api, Refused, type Schemas } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import { SUPPLIERS } from '../../../basics/suppliers';

export type Material = Schemas['MaterialInDetail'];
export type Costs = Schemas['MaterialCosts'];
export type MaterialRead = {
  material: Material;
  /** null where somebody may not see money */
  costs: Costs | null;
  /** where it is usually bought; null where nobody has said, or somebody may not see it */
  usualSupplier: string | null;
};

/** A material with its lots, and what they cost where that may be seen. */
export async function readMaterial(materialId: string, me: Me, signal: AbortSignal): Promise<MaterialRead> {
  const params = { path: { materialId } };
  const seesMoney = me.rights.includes('money:read');
  const [found, costs, supply, suppliers] = await Promise.all([
    api.GET('/api/materials/{materialId}', { params, signal }),
    seesMoney ? api.GET('/api/materials/{materialId}/costs', { params, signal }) : null,
    seesMoney ? api.GET('/api/materials/{materialId}/supply', { params, signal }) : null,
    seesMoney ? SUPPLIERS.list() : [], // all of them, beside the supply and not after it: there are few
  ]);
  if (!found.data) throw new Refused('unknown', 'The material could not be loaded. Load the page again.');
  const supplier = suppliers.find(({ id }) => id === supply?.data?.supplierId);
  const latest = found.data.lots.findLast(({ supplier }) => supplier !== null);
  return {
    material: found.data,
    costs: costs?.data ?? null,
    usualSupplier: supplier?.name ?? latest?.supplier ?? null,
  };
}

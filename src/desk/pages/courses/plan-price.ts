import { useCallback } from 'preact/hooks';
import { api, Refused, type Schemas } from '../../api/client';
import { useQuery } from '../../api/query';

type PlanPrice = Schemas['PlanPrice'];

/** What a place would have to cost if the plan ran today, at a tax rate or at the studio's latest. */
export async function getPlanPrice(planId: string, taxRateId: string, signal: AbortSignal): Promise<PlanPrice> {
  const params = { path: { planId }, ...(taxRateId && { query: { taxRateId } }) };
  const { data } = await api.GET('/api/course-plans/{planId}/price', { params, signal });
  if (!data) throw new Refused('unknown', 'The price could not be loaded. Please reload the page.');
  return data;
}

/** The price of a plan as it is shown; a group's is worked out for each session. */
export function usePlanPrice({ id, kind }: Pick<Schemas['CoursePlan'], 'id' | 'kind'>, taxRateId = '') {
  const read = useCallback((signal: AbortSignal) => getPlanPrice(id, taxRateId, signal), [id, taxRateId]);
  return useQuery({ key: ['plan price', id, taxRateId], read, enabled: kind !== 'private' });
}

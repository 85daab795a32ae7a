import { api, type Schemas } from '../api/client';
import { listed } from '../format/formatter';
import { answered } from './basic';

export type Assumption = Schemas['Assumption'];

export const listAssumptions = async (signal: AbortSignal | null = null): Promise<Assumption[]> =>
  answered(await api.GET('/api/assumptions', { signal })).items;

const CALLED: Record<Assumption['kind'], string> = {
  ...{ room: 'the room', kiln: 'the kiln', schedule: 'the firing', tax: 'tax', refundPolicy: 'refunds' },
  ...{ tariff: 'the tariff', material: 'the material', lot: 'the price of' },
};
export const calledIn = ({ kind, name }: Assumption): string => `${CALLED[kind]} “${name}”`;

/** Where figures are used: which of them are only usual ones, and where they are changed. */
export function AssumptionsNote({ assumptions }: { assumptions: readonly Assumption[] }) {
  if (assumptions.length === 0) return null;
  return (
    <p class="amber">
      {assumptions.length === 1 ? 'An assumption' : 'Assumptions'}: {listed(assumptions.map(calledIn))}.{' '}
      <a href="/studio/start">Change {assumptions.length === 1 ? 'it' : 'them'} when you know.</a>
    </p>
  );
}

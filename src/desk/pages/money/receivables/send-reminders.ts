import { api, Refused } from '../../../api/client';
import { further, type Headers } from '../../../api/idempotency-key';
import type { Debtor } from '../../../payment/charge-totals';

/** So long a person is left in peace; the API refuses another reminder before. */
const DAYS_BETWEEN = 7;
const DAY_MILLISECONDS = 86_400_000;

/** Whether something is due of them, and they were not reminded within the last days. */
export function canBeReminded({ dueMinor, remindedOn }: Debtor, today: string): boolean {
  if (dueMinor === 0) return false;
  return remindedOn === null || Date.parse(today) - Date.parse(remindedOn) >= DAYS_BETWEEN * DAY_MILLISECONDS;
}

export type Reminded = { written: { name: string; dueMinor: number; hasEmail: boolean }[]; refused: string[] };

/** Writes each a reminder, one after the other; one that is refused keeps nobody else from theirs. */
export async function remindAll(debtors: readonly Debtor[], headers: Headers): Promise<Reminded> {
  const outcome: Reminded = { written: [], refused: [] };
  for (const [i, { personId, name }] of debtors.entries()) {
    try {
      const params = { path: { personId } };
      const { data } = await api.POST('/api/people/{personId}/reminders', { params, headers: further(headers, i) });
      if (data) outcome.written.push({ name, dueMinor: data.dueMinor, hasEmail: data.hasEmail });
    } catch (error) {
      if (!(error instanceof Refused) || error.type === '/problems/signed-out') throw error;
      outcome.refused.push(error.message);
    }
  }
  return outcome;
}

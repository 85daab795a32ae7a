import type { Debtor } from '../../../actions/payment/charge-totals';

/** So long a person is left in peace; the API refuses another reminder before. */
const DAYS_BETWEEN = 7;
const DAY_MILLISECONDS = 86_400_000;

/** Whether something is due of them, and they were not reminded within the last days. */
export function canBeReminded({ dueMinor, remindedOn }: Debtor, today: string): boolean {
  if (dueMinor === 0) return false;
  return remindedOn === null || Date.parse(today) - Date.parse(remindedOn) >= DAYS_BETWEEN * DAY_MILLISECONDS;
}

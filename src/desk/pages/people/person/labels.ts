import { capital, count, type Formatter, listed } from '../../../format/formatter';
import { isGone } from '../../../format/piece';
import type { Booking, Payment, PersonRead } from './queries';

const STATES: Record<Booking['state'], string> = {
  provisional: 'held',
  confirmed: 'booked',
  cancelled: 'cancelled',
};
export const stateOf = ({ state, movedToId }: Pick<Booking, 'state' | 'movedToId'>): string =>
  movedToId === null ? STATES[state] : 'moved';

/** "Card", "Card, paid back", "Carried over from another booking" */
export const paidHow = ({ method, amountMinor }: Pick<Payment, 'method' | 'amountMinor'>): string => {
  if (method === 'carried') return `Carried over ${amountMinor < 0 ? 'to' : 'from'} another booking`;
  return `${capital(method)}${amountMinor < 0 ? ', paid back' : ''}`;
};

/** What is owed, what is booked and what is here, as one sentence; what nobody asked for is left out. */
export function answerOf(
  { charges, bookings, pieces }: PersonRead,
  today: string,
  { moneyInText, dayOf }: Formatter,
): string {
  const said: string[] = [];
  if (charges) said.push(owed(charges, moneyInText));
  const ahead = (bookings?.items ?? []).filter(
    (b) => b.state !== 'cancelled' && dayOf(b.courseStartsAt) >= today,
  ).length;
  if (ahead > 0) said.push(`has ${count(ahead, 'course')} to come`);
  const here = (pieces?.items ?? []).filter(({ stage }) => !isGone(stage)).length;
  if (pieces) said.push(here === 0 ? 'has no ware here' : `has ${count(here, 'piece')} here`);
  return said.length === 0 ? '' : `${capital(listed(said))}.`;
}

/** What is only held is not owed yet; a sum of the latest is told as one. */
function owed({ items, total }: NonNullable<PersonRead['charges']>, moneyInText: Formatter['moneyInText']): string {
  const sum = items.filter(({ hold }) => hold === null).reduce((all, { owedMinor }) => all + owedMinor, 0);
  if (sum === 0) return 'owes nothing';
  return total > items.length
    ? `owes ${moneyInText(sum)} for the latest ${items.length} charges`
    : `owes ${moneyInText(sum)}`;
}

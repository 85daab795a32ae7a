import { count, type Formatter, listed } from '../../../format/formatter';
import type { Phrase } from '../../../format/phrases';
import type { Order, Ordering, Suggested } from './queries';

export const placeOf = ({ id }: Pick<Order, 'id'>): string => `order-${id}`;
export const placeOfSupplier = ({ supplierId }: Pick<Suggested, 'supplierId'>): string => `supplier-${supplierId}`;

export const isOpen = ({ state }: Order): boolean => state === 'placed' || state === 'partReceived';

/** How far an order has come, in the words of a delivery. */
export function stateOf(
  order: Order,
  today: string,
  formatter: Formatter,
): { text: string; tone: 'iron' | 'amber' | 'celadon' | 'quiet' } {
  const { state, expectedOn } = order;
  if (state === 'drafted') return { text: 'draft', tone: 'amber' };
  if (state === 'cancelled') return { text: 'cancelled', tone: 'quiet' };
  if (state === 'received') return { text: 'received', tone: 'celadon' };
  const some = state === 'partReceived' ? 'a part is here; the rest ' : '';
  if (expectedOn && expectedOn < today)
    return { text: `${some}overdue since ${formatter.date(expectedOn)}`, tone: 'iron' };
  return { text: `${some}due ${expectedOn ? formatter.day(expectedOn, today) : 'soon'}`, tone: 'celadon' };
}

/** The answer: from whom to order by when, what is overdue, and what is on its way. */
export function answerOf({ proposal, orders }: Ordering, today: string, formatter: Formatter): Phrase[] {
  const phrases: Phrase[] = [];
  for (const suggested of proposal.suppliers) {
    const { supplier, orderBy, totalMinor } = suggested;
    const late = orderBy < today;
    phrases.push('Order from ', {
      text: supplier,
      to: `#${placeOfSupplier(suggested)}`,
      tone: late ? 'iron' : 'amber',
    });
    phrases.push(
      ` ${late ? 'at once' : orderBy === today ? 'today' : `by ${formatter.longDay(orderBy)}`}: ${formatter.money(totalMinor)} with carriage. `,
    );
  }
  const { toMix, unsold } = proposal;
  for (const { name, orderBy } of toMix)
    phrases.push(`Mix ${name} ${orderBy < today ? 'at once' : `by ${formatter.longDay(orderBy)}`}. `);
  if (unsold.length > 0)
    phrases.push(
      `No supplier is set for ${listed(unsold.map(({ name }) => name))}, which ${unsold.length === 1 ? 'is' : 'are'} needed. `,
    );
  if (phrases.length === 0) phrases.push('Nothing need be ordered for what is booked and expected. ');
  const open = orders.filter(isOpen);
  if (open.length === 0) return [...phrases, 'Nothing is on its way.'];
  const late = open.filter(({ expectedOn }) => expectedOn !== null && expectedOn < today);
  phrases.push(
    `${open.length === 1 ? 'One order is' : `${count(open.length, 'order')} are`.replace(/^./, (a) => a.toUpperCase())} on ${open.length === 1 ? 'its' : 'their'} way`,
  );
  if (late.length === 0) return [...phrases, '.'];
  const [first] = late as [Order];
  const which = open.length === 1 ? 'overdue' : `${late.length} of them overdue`;
  return [...phrases, open.length === 1 ? ' and ' : ', ', { text: which, to: `#${placeOf(first)}`, tone: 'iron' }, '.'];
}

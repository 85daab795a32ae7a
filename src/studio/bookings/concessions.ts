import type { Transaction } from '../../database/transaction.js';
import { Problem, see } from '../../problems.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { amountMinor } from '../../trade/money/money.js';
import type { Course } from '../courses/contract.js';
import type { NewBooking } from './contract.js';
import type { Charged } from './terms.js';

type Concession = Course['concessions'][number];
type Priced = Pick<Course, 'priceMinor' | 'depositMinor' | 'balancePayments'>;

/** Which concession each attendee named, if any; refused where it is of another course or given away. The course is locked. */
export async function concessionsOf(
  tx: Transaction,
  course: Course,
  { concessions = [] }: NewBooking,
): Promise<Map<string, Concession>> {
  const named = new Map<string, Concession>();
  for (const { attendeeId, concessionId } of concessions) {
    const found = course.concessions.find(({ id }) => id === concessionId);
    if (!found)
      throw new Problem(
        'not-found',
        'The course has no such concession. Its prices are shown with it on the page Courses.',
        see('courses', `/api/courses/${course.id}`),
      );
    named.set(attendeeId, found);
  }
  for (const concession of new Set(named.values()))
    await refuseGivenAway(tx, concession, [...named.values()].filter((of) => of === concession).length);
  return named;
}

async function refuseGivenAway(tx: Transaction, { id, label, atMost }: Concession, wanted: number): Promise<void> {
  if (atMost === null) return;
  const left = atMost - (await tx.place.count({ where: { concessionId: id, booking: { cancelledAt: null } } }));
  if (wanted <= left) return;
  const places = `${atMost} ${atMost === 1 ? 'place' : 'places'}`;
  throw new Problem(
    'concession-full',
    left > 0
      ? `Only ${left} of ${places} at "${label}" ${left === 1 ? 'is' : 'are'} left. Book the others at the full price.`
      : `All ${places} at "${label}" are taken. Book at the full price.`,
    { placesLeft: left },
  );
}

/**
 * What a booking is charged, by how it is paid: each place at the full price or its concession's; in a private session the group's
 * price, and for each head above the group a sum. What is paid in as many payments is split as one sum.
 */
export function chargedFor(
  course: Course,
  attendeeIds: readonly string[],
  named: Map<string, Concession>,
  people: number,
): Charged[] {
  if (course.kind === 'private') {
    const above = Math.max(0, people - (course.groupOf ?? 0));
    const { depositMinor, balancePayments } = course;
    const priceMinor = course.priceMinor + amountMinor(above, String(course.perHeadAboveMinor ?? 0));
    return [{ priceMinor, depositMinor, balancePayments }];
  }
  const places = attendeeIds.map((id) => placeAt(course, named.get(id)));
  const alike = groupBy(places, ({ balancePayments }) => balancePayments);
  return [...alike].map(([balancePayments, group]) => ({ ...totalPrice(group), balancePayments }));
}

/** What one place costs and how it is paid. No deposit is more than what it is of; what is paid in one payment is all deposit. */
export function placeAt(course: Priced, concession?: Pick<Concession, 'priceMinor' | 'payments'>): Charged {
  const { priceMinor, payments } = concession ?? { priceMinor: course.priceMinor, payments: null };
  const depositMinor =
    payments === 1 && course.depositMinor > 0 ? priceMinor : Math.min(priceMinor, course.depositMinor);
  const ofBalance = payments === null ? course.balancePayments : payments - (course.depositMinor > 0 ? 1 : 0);
  return { priceMinor, depositMinor, balancePayments: Math.max(1, ofBalance) };
}

/** What is kept of a place's price; nothing in a private session, whose group has one price. */
export function priceOfPlace(
  course: Course,
  concession: Concession | null,
): { priceMinor: number | null; depositMinor: number | null } {
  if (course.kind === 'private') return { priceMinor: null, depositMinor: null };
  const { priceMinor, depositMinor } = placeAt(course, concession ?? undefined);
  return { priceMinor, depositMinor };
}

export function totalPrice(charged: readonly Charged[]): { priceMinor: number; depositMinor: number } {
  const sum = (of: (part: Charged) => number) => charged.reduce((so, part) => so + of(part), 0);
  return { priceMinor: sum((of) => of.priceMinor), depositMinor: sum((of) => of.depositMinor) };
}

/** What receipts and the books say was booked: "3 places, of which 1 Student", or "a group of 7". */
export function placesInWords({ kind }: Course, count: number, named: Map<string, Concession>): string {
  if (kind === 'private') return `a group of ${count}`;
  const places = `${count} ${count === 1 ? 'place' : 'places'}`;
  const labels = [...named.values()].map(({ label }) => label);
  const each = [...new Set(labels)].map((label) => {
    const number = labels.filter((other) => other === label).length;
    return count === 1 ? label : `${number} ${label}`;
  });
  if (each.length === 0) return places;
  return count === 1 ? `${places} (${each.join(', ')})` : `${places} (of them ${each.join(', ')})`;
}

import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { amountMinor } from '../../trade/money.js';
import type { Course } from '../courses/contract.js';
import type { NewBooking } from './contract.js';

type Concession = Course['concessions'][number];

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
      throw new Problem('not-found', 'The course has no concession with this id. Look it up under /api/courses/{id}.');
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
      : `All ${places} at "${label}" are given away. Book at the full price.`,
    { placesLeft: left },
  );
}

type Charged = { priceMinor: number; depositMinor: number };

/**
 * What a booking is charged in all: each place at the full price or its concession's; in a private session the group's price, and
 * for each head above the group a sum. No deposit is more than what it is of.
 */
export function chargedFor(course: Course, attendeeIds: readonly string[], named: Map<string, Concession>): Charged {
  if (course.kind === 'private') {
    const above = Math.max(0, attendeeIds.length - (course.groupOf ?? 0));
    return {
      priceMinor: course.priceMinor + amountMinor(above, String(course.perHeadAboveMinor ?? 0)),
      depositMinor: course.depositMinor,
    };
  }
  const prices = attendeeIds.map((id) => named.get(id)?.priceMinor ?? course.priceMinor);
  const sum = (of: readonly number[]) => of.reduce((a, b) => a + b, 0);
  return { priceMinor: sum(prices), depositMinor: sum(prices.map((price) => Math.min(price, course.depositMinor))) };
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

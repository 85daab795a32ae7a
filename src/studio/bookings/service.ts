import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { createCharge } from '../accounts/charges/charges.js';
import type { Course } from '../courses/contract.js';
import { partsOfPrice } from '../courses/price-tax-split.js';
import { getPlan, hasBegun, lockCourse } from '../courses/service.js';
import { datesInWords } from '../courses/session-dates.js';
import { getPerson } from '../people/service.js';
import { getStudio } from '../settings/service.js';
import { chargedFor, concessionsOf, placesInWords, totalPrice } from './concessions.js';
import type { Booking, NewBooking } from './contract.js';
import { fillPlacesGivenUp } from './given-up-places.js';
import { releaseExpired } from './holds.js';
import { writeBookingLetter } from './letters.js';
import { getBooking, listStoredPlaces } from './read-bookings.js';
import { instalments } from './terms.js';

export { cancelBooking } from './cancellation.js';
export { listRefundsDue, payFurtherRefund } from './further-refund.js';
export { payForBookings } from './payment.js';
export { getBooking, listBookingsOf } from './read-bookings.js';

const HOUR_MILLISECONDS = 3_600_000;

/**
 * Books places on a course, and holds them for their deposit. Never sells more than there are: the course's row is locked
 * before its places are counted, and holds that ran out are released before that.
 */
export async function bookPlaces(tx: Transaction, now: Date, courseId: string, wanted: NewBooking): Promise<Booking> {
  const { payerId, attendeeIds } = wanted;
  for (const id of new Set([payerId, ...attendeeIds])) await getPerson(tx, id);
  const booked = await lockCourse(tx, courseId);
  if (booked.completedOn !== null || hasBegun(booked, now))
    throw new Problem('course-over', 'The course has begun, and takes no more bookings. Choose a later one.');

  await releaseExpired(tx, now, courseId);
  await refuseTwice(tx, courseId, attendeeIds);
  await refuseFull(tx, booked, attendeeIds.length);
  const named = await concessionsOf(tx, booked, wanted);

  const studio = await getStudio(tx);
  const charged = chargedFor(booked, attendeeIds, named);
  const { priceMinor, depositMinor } = totalPrice(charged);
  const heldUntil = holdEnd(booked, now);
  const firstDueOn = localDay(depositMinor > 0 ? heldUntil : now, studio.timeZone);
  const firstDay = localDay(new Date(booked.sessions[0]?.startsAt ?? now), studio.timeZone);
  const due = instalments(charged, booked, firstDueOn, firstDay);
  const plan = await getPlan(tx, booked.planId);
  const chargeId = await createCharge(tx, now, {
    personId: payerId,
    kind: 'course',
    description: `${booked.title}, ${datesInWords(booked.sessions, studio)}, ${placesInWords(booked, attendeeIds.length, named)}`,
    quantity: booked.kind === 'private' ? 1 : attendeeIds.length,
    grossMinor: priceMinor,
    taxRateId: booked.taxRateId,
    parts: partsOfPrice(plan, priceMinor, attendeeIds.length),
    restLabel: plan.restLabel,
    inAdvance: true,
    instalments: due,
  });

  const id = newId();
  await tx.booking.create({ data: { id, courseId, payerId, chargeId, depositMinor, heldUntil, bookedAt: now } });
  const places = attendeeIds.map((personId) => ({ personId, concessionId: named.get(personId)?.id ?? null }));
  await tx.place.createMany({ data: places.map((place) => ({ ...place, id: newId(), bookingId: id })) });
  const made = await getBooking(tx, id);
  await writeBookingLetter(tx, now, made, booked, studio);
  if (made.state === 'confirmed') await fillPlacesGivenUp(tx, now, booked);
  return made;
}

/** When the hold of a place booked now ends: at the latest as the course begins, when nobody else could take it any more. */
export function holdEnd({ holdHours, sessions }: Course, now: Date): Date {
  const begins = new Date(sessions[0]?.startsAt ?? now);
  const end = new Date(now.getTime() + holdHours * HOUR_MILLISECONDS);
  return end < begins ? end : begins;
}

async function refuseFull(tx: Transaction, { id, kind, places }: Course, wanted: number): Promise<void> {
  const taken = await listStoredPlaces(tx, id);
  if (kind === 'private' && taken > 0)
    throw new Problem('course-full', 'Another group has booked this private session. Choose another one.', {
      placesLeft: 0,
    });
  const placesLeft = places - taken;
  if (wanted <= placesLeft) return;
  throw new Problem(
    'course-full',
    placesLeft > 0
      ? `Only ${placesLeft} of ${places} places ${placesLeft === 1 ? 'is' : 'are'} left. Book fewer, or choose another course.`
      : 'The course is full. Choose another one.',
    { placesLeft },
  );
}

/** One person, one place: a second one is a booking that was sent twice. */
async function refuseTwice(tx: Transaction, courseId: string, attendeeIds: readonly string[]): Promise<void> {
  const twice = await tx.place.findFirst({
    where: { personId: { in: [...attendeeIds] }, booking: { courseId, cancelledAt: null } },
    include: { person: true },
  });
  if (twice)
    throw new Problem(
      'already-there',
      `${twice.person.name} has a place on this course already. Book for the others.`,
      {
        bookingId: twice.bookingId,
      },
    );
}

import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { createCharge, type NewCharge } from '../accounts/charges/charges.js';
import { freezeTaxParts } from '../accounts/charges/tax-parts.js';
import type { Course } from '../courses/contract.js';
import { partsOfPrice } from '../courses/price-tax-split.js';
import { soldOn } from '../courses/selling.js';
import { hasBegun, lockCourse, refuseCancelled } from '../courses/service.js';
import { datesInWords } from '../courses/session-dates.js';
import { getTermsOfSale, type TermsOfSale } from '../courses/terms-of-sale.js';
import { type IncludedVisit, includeVisits, noteVisits, visitsInWords } from '../memberships/use/visits.js';
import { getPeople } from '../people/service.js';
import type { Studio } from '../settings/contract.js';
import { getStudio } from '../settings/service.js';
import { chargedFor, concessionsOf, placesInWords, priceOfPlace, totalPrice } from './concessions.js';
import type { Booking, NewBooking } from './contract.js';
import { holdEnd } from './hold-end.js';
import { releaseExpired } from './holds.js';
import { getOccupancy, insertBooking, type Occupancy } from './queries.js';
import { refuseUnsold } from './selling-rules.js';
import { instalments } from './terms.js';
import { toBooking } from './to-api.js';
import { lapseOffers } from './waiting-list/offers.js';

/** Places that were taken, and what whoever took them needs to tell of it. */
export type Taken = {
  booking: Booking;
  course: Course;
  studio: Studio;
  hasGivenUp: boolean;
  /** what of it memberships include, in words; null where that is nothing */
  included: string | null;
};

/**
 * Takes places on a course for a booking, and tells nobody. Never takes more than there are: the course's row is locked before its places
 * are counted, and holds that ran out are released before that.
 */
export async function takePlaces(
  tx: Transaction,
  now: Date,
  courseId: string,
  wanted: NewBooking,
  insteadOfId: string | null = null,
): Promise<Taken> {
  const { payerId, attendeeIds, unnamed = 0 } = wanted;
  const [payer, ...attendees] = await getPeople(tx, [payerId, ...attendeeIds]);
  const locked = await lockCourse(tx, courseId);
  const studio = await getStudio(tx);
  const booked = soldOn(locked, localDay(now, studio.timeZone));
  refuseCancelled(booked);
  if (booked.completedOn !== null || hasBegun(booked, now))
    throw new Problem('course-over', 'The course has begun, and takes no more bookings. Choose a later one.');

  refuseUnsold(booked, wanted, now, studio);
  const occupancy = await occupancyOf(tx, now, courseId, attendeeIds);
  refuseTwice(occupancy);
  const people = attendeeIds.length + unnamed;
  if (unnamed > 0 && booked.kind !== 'private') throw namesMissing();
  refuseFull(booked, occupancy, people);
  const named = await concessionsOf(tx, booked, wanted);

  const { plan } = await getTermsOfSale(tx, courseId);
  const heldUntil = holdEnd(booked, now);
  const asked = chargeOf(now, studio, booked, plan, { payerId, attendeeIds, people, named, heldUntil });
  const { charge } = asked;
  const visits = await visitsOf(tx, studio, booked, attendeeIds, named, insteadOfId);
  const places = attendees.map((person) => placeOf(booked, person, named.get(person.id) ?? null, visits, wanted));
  const depositMinor = visits.length === 0 ? asked.depositMinor : sumOf(places.map((place) => place.depositMinor));
  const includedMinor = sumOf(visits.map((visit) => visit.includedMinor));
  const chargeId = await createCharge(tx, now, charge);
  const row = {
    ...{ id: newId(), courseId, payerId, chargeId, depositMinor, heldUntil, bookedAt: now },
    ...{ outsideWindow: wanted.outsideWindow ?? false, unnamed },
  };
  const waited = occupancy.waitingIds;
  if (waited.length > 0)
    // before their places are taken, since an offer that they have keeps the same ones
    await tx.waitingEntry.updateMany({ where: { id: { in: waited } }, data: { endedAt: now, ended: 'booked' } });
  await insertBooking(
    tx,
    row,
    places.map(({ person: _, concession: __, membershipVisits: ___, ...place }) => place),
  );
  const placeIds = new Map(places.map(({ id, personId }) => [personId, id]));
  await noteVisits(tx, now, { chargeId, placeIds, studio }, visits);
  if (waited.length > 0)
    await tx.waitingEntry.updateMany({ where: { id: { in: waited } }, data: { bookingId: row.id } });
  const { grossMinor, instalments } = charge;
  const parts = await freezeTaxParts(tx, studio, charge);
  const booking = toBooking(
    {
      ...{ ...row, payer, places, parts, instalments, cancelledPlaces: [] },
      ...{ cancelledAt: null, cancelledBecause: null, movedToId: null, refundDueMinor: 0 },
    },
    { grossMinor, paidMinor: 0, owedMinor: grossMinor - includedMinor },
  );
  const included = visits.length === 0 ? null : visitsInWords(visits, studio);
  return { booking, course: booked, studio, hasGivenUp: occupancy.hasGivenUp, included };
}

const sumOf = (amounts: readonly (number | null)[]) => amounts.reduce<number>((sum, amount) => sum + (amount ?? 0), 0);

/** What memberships include of places of open studio; of no other course they include anything. */
async function visitsOf(
  tx: Transaction,
  studio: Studio,
  booked: Course,
  attendeeIds: readonly string[],
  named: Wanted['named'],
  insteadOfId: string | null,
): Promise<IncludedVisit[]> {
  if (booked.kind !== 'openStudio') return [];
  const places = attendeeIds.map((personId) => ({
    ...{ personId, priceMinor: priceOfPlace(booked, named.get(personId) ?? null).priceMinor ?? 0 },
  }));
  return includeVisits(tx, studio, booked.sessions, places, insteadOfId);
}

type Concession = Course['concessions'][number];

/** A place as it is booked: it costs what is beyond its visitor's membership, and no deposit is more than that. */
function placeOf<P extends { id: string; name: string }>(
  booked: Course,
  person: P,
  concession: Concession | null,
  visits: readonly IncludedVisit[],
  { agesConfirmed = false }: NewBooking,
) {
  const usual = priceOfPlace(booked, concession);
  const sessions = visits.find(({ personId }) => personId === person.id)?.sessions ?? [];
  const includedMinor = sumOf(sessions.map((session) => session.includedMinor));
  const priceMinor = usual.priceMinor === null ? null : usual.priceMinor - includedMinor;
  return {
    ...{ id: newId(), personId: person.id, person, concession, concessionId: concession?.id ?? null },
    ...{ priceMinor, depositMinor: usual.depositMinor === null ? null : Math.min(usual.depositMinor, priceMinor ?? 0) },
    ...{ ageConfirmed: agesConfirmed, membershipVisits: sessions },
  };
}

type Wanted = Pick<NewBooking, 'payerId' | 'attendeeIds'> & {
  /** those without a name among them */
  people: number;
  named: Awaited<ReturnType<typeof concessionsOf>>;
  heldUntil: Date;
};

/** What is asked for the places, and by when: the deposit as the hold ends. */
function chargeOf(
  now: Date,
  studio: Studio,
  booked: Course,
  plan: TermsOfSale['plan'],
  { payerId, attendeeIds, people, named, heldUntil }: Wanted,
): { charge: NewCharge; depositMinor: number } {
  const charged = chargedFor(booked, attendeeIds, named, people);
  const { priceMinor, depositMinor } = totalPrice(charged);
  const firstDueOn = localDay(depositMinor > 0 ? heldUntil : now, studio.timeZone);
  const firstDay = localDay(new Date(booked.sessions[0]?.startsAt ?? now), studio.timeZone);
  const charge: NewCharge = {
    personId: payerId,
    kind: 'course',
    description: `${booked.title}, ${datesInWords(booked.sessions, studio)}, ${placesInWords(booked, people, named)}`,
    quantity: booked.kind === 'private' ? 1 : people,
    grossMinor: priceMinor,
    taxRateId: booked.taxRateId,
    parts: partsOfPrice(plan, priceMinor, people),
    restLabel: plan.restLabel,
    inAdvance: true,
    instalments: instalments(charged, booked, firstDueOn, firstDay),
  };
  return { charge, depositMinor };
}

/** How full the course is once what is held no more was released. */
async function occupancyOf(tx: Transaction, now: Date, courseId: string, attendeeIds: readonly string[]) {
  const found = await getOccupancy(tx, now, courseId, attendeeIds);
  if (!found.hasLapsed) return found;
  await releaseExpired(tx, now, courseId);
  await lapseOffers(tx, now, courseId);
  return getOccupancy(tx, now, courseId, attendeeIds);
}

function refuseFull({ kind, places }: Course, { taken }: Occupancy, wanted: number): void {
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

const namesMissing = () =>
  new Problem(
    'invalid-request',
    'Only the group of a private session can come without names. Say who comes, one place each.',
    { errors: [{ pointer: '#/unnamed', detail: 'must be 0: this is not a private session' }] },
  );

/** One person, one place: a second one is a booking that was sent twice. */
export function refuseTwice({ comes, makesUp }: Occupancy): void {
  if (makesUp !== null)
    throw new Problem(
      'already-there',
      `${makesUp} makes up a session on this course. Take that off first, on the register of that session.`,
    );
  if (comes)
    throw new Problem('already-there', `${comes.name} has a place on this course already. Book for the others.`, {
      bookingId: comes.bookingId,
    });
}

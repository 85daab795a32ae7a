import { localInstant } from '../../trade/calendar/calendar.js';
import { majorUnits } from '../../trade/money/money.js';
import type { PublicCourse, PublicCourses, PublicSession } from './public-courses.js';

/**
 * Coming courses as JSON-LD by schema.org: a Course with its CourseInstance, and an Event for a visit to the open studio; where there
 * are several sessions, each is a subEvent. Moments have the offset of the studio's own clock.
 */
export function structuredData({ studio, courses }: PublicCourses): object {
  return {
    '@context': 'https://schema.org',
    '@graph': courses.map((course) =>
      course.kind === 'course'
        ? {
            '@type': 'Course',
            name: course.title,
            provider: { '@type': 'Organization', name: studio.name },
            hasCourseInstance: [{ '@type': 'CourseInstance', courseMode: 'onsite', ...eventOf(course, studio) }],
          }
        : { '@type': 'Event', ...eventOf(course, studio) },
    ),
  };
}

type Studio = PublicCourses['studio'];

function eventOf(course: PublicCourse, studio: Studio) {
  const { id, title, sessions, placesLeft, priceMinor, bookableFrom, bookableUntil } = course;
  const last = sessions.at(-1) ?? sessions[0];
  const tutors = [...new Set(sessions.flatMap((session) => session.tutors))];
  return {
    '@id': `urn:uuid:${id}`,
    ...{ name: title, ...timesOf({ startsAt: sessions[0].startsAt, endsAt: last.endsAt }, studio) },
    ...SHARED,
    location: placeOf(studio),
    organizer: { '@type': 'Organization', name: studio.name },
    remainingAttendeeCapacity: placesLeft,
    offers: {
      '@type': 'Offer',
      price: majorUnits(priceMinor, studio.currency),
      priceCurrency: studio.currency,
      availability: `https://schema.org/${placesLeft > 0 ? 'InStock' : 'SoldOut'}`,
      ...(bookableFrom && { availabilityStarts: bookableFrom }),
      ...(bookableUntil && { availabilityEnds: bookableUntil }),
    },
    ...(course.kind === 'course' && tutors.length > 0
      ? { instructor: tutors.map((name) => ({ '@type': 'Person', name })) }
      : {}),
    ...(sessions.length > 1 ? { subEvent: sessions.map((session, i) => subEventOf(course, session, i, studio)) } : {}),
  };
}

const SHARED = {
  eventStatus: 'https://schema.org/EventScheduled',
  eventAttendanceMode: 'https://schema.org/OfflineEventAttendanceMode',
};

const subEventOf = ({ title, sessions }: PublicCourse, session: PublicSession, i: number, studio: Studio) => ({
  '@type': 'Event',
  '@id': `urn:uuid:${session.id}`,
  name: `${title} (${i + 1} of ${sessions.length})`,
  ...timesOf(session, studio),
  ...SHARED,
  location: placeOf(studio),
});

const timesOf = ({ startsAt, endsAt }: Pick<PublicSession, 'startsAt' | 'endsAt'>, { timeZone }: Studio) => ({
  startDate: localInstant(startsAt, timeZone),
  endDate: localInstant(endsAt, timeZone),
});

const placeOf = ({ name, addressLines }: Studio) => ({ '@type': 'Place', name, address: addressLines.join(', ') });

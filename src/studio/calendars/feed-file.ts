import ical, { ICalCalendarMethod, ICalEventStatus } from 'ical-generator';
import type { FeedSession } from './queries.js';

/** A session as a calendar shows it. */
export type CalendarSession = Omit<FeedSession, 'coming'> & {
  /** null where it is not said how many come */
  coming: number | null;
};

/** As calendars may show it again, and no sooner (RFC 7986, REFRESH-INTERVAL). */
const REFRESH_SECONDS = 3600;

/**
 * Sessions as an iCalendar object (RFC 5545): one VEVENT for each, in UTC, whose UID stays and whose SEQUENCE rises as it is moved.
 *
 * @param name what calendars call it
 */
export function feedFile(name: string, sessions: readonly CalendarSession[], now: Date): string {
  const calendar = ical({
    name,
    prodId: { company: 'Wareboard', product: 'Wareboard', language: 'EN' },
    method: ICalCalendarMethod.PUBLISH,
    ttl: REFRESH_SECONDS,
  });
  for (const session of sessions) {
    const { id, sequence, startsAt, endsAt, room, cancelledBecause } = session;
    calendar.createEvent({
      ...{ id: `${id}@wareboard`, sequence, stamp: now, start: startsAt, end: endsAt, location: room },
      summary: titleOf(session),
      description: descriptionOf(session),
      status: cancelledBecause === null ? ICalEventStatus.CONFIRMED : ICalEventStatus.CANCELLED,
    });
  }
  return calendar.toString();
}

const titleOf = ({ title, ordinal, of }: CalendarSession) => (of === 1 ? title : `${title} (${ordinal} of ${of})`);

function descriptionOf({ places, coming, tutors, cancelledBecause }: CalendarSession): string {
  if (cancelledBecause !== null) return `Cancelled: ${cancelledBecause}`;
  const numbers = coming === null ? [] : [`${coming} of ${places} places are taken.`];
  const taught = tutors.length > 0 ? [`Taught by ${tutors.join(', ')}.`] : [];
  return [...numbers, ...taught].join('\n');
}

import ical, { ICalCalendarMethod, ICalEventStatus } from 'ical-generator';
import type { FeedSession } from './queries.js';

/** As calendars may show it again, and no sooner (RFC 7986, REFRESH-INTERVAL). */
const REFRESH_SECONDS = 3600;

/**
 * Sessions as an iCalendar object (RFC 5545): one VEVENT for each, in UTC, whose UID stays and whose SEQUENCE rises as it is moved.
 *
 * @param name what calendars call it
 */
export function feedFile(name: string, sessions: readonly FeedSession[], now: Date): string {
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

const titleOf = ({ title, ordinal, of }: FeedSession) => (of === 1 ? title : `${title} (${ordinal} of ${of})`);

function descriptionOf({ places, coming, tutors, cancelledBecause }: FeedSession): string {
  if (cancelledBecause !== null) return `Cancelled: ${cancelledBecause}`;
  const taught = tutors.length > 0 ? [`Taught by ${tutors.join(', ')}.`] : [];
  return [`${coming} of ${places} places are taken.`, ...taught].join('\n');
}

import { type CalendarSession, feedFile } from '../calendars/feed-file.js';
import type { PublicCourses } from './public-courses.js';

/** Coming courses as an iCalendar object, a VEVENT for each session; how many come is not said. */
export function calendarFile({ studio, courses }: PublicCourses, now: Date): string {
  const sessions = courses.flatMap(({ title, places, sessions }) =>
    sessions.map(
      (session, i): CalendarSession => ({
        ...{ ...session, title, places, ordinal: i + 1, of: sessions.length },
        room: [studio.name, ...studio.addressLines].join(', '),
        ...{ coming: null, cancelledBecause: null },
      }),
    ),
  );
  return feedFile(`${studio.name}: courses`, sessions, now);
}

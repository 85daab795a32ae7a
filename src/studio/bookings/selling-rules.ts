import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import type { Course } from '../courses/contract.js';
import { agesInWords, whyNotBookable } from '../courses/selling.js';
import type { Studio } from '../settings/contract.js';
import type { NewBooking } from './contract.js';

/**
 * Refuses a booking on a day on which the course is not booked, unless the owner means it, and one for which nobody said that those who
 * come are of its age.
 */
export function refuseUnsold(course: Course, wanted: NewBooking, now: Date, { timeZone, locale }: Studio): void {
  const closed = whyNotBookable(course, localDay(now, timeZone), locale);
  if (closed && !wanted.outsideWindow)
    throw new Problem('not-bookable', `${closed} Choose another course, or say that you book all the same.`);
  const ages = agesInWords(course);
  if (ages && !wanted.agesConfirmed)
    throw new Problem(
      'age-limit',
      `“${course.title}” is for people aged ${ages}. Say that everyone who comes is, or choose another course.`,
    );
}

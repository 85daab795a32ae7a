import type { Schemas } from '../../../api/client';
import { capital, count, type Formatter, listed } from '../../../format/formatter';

export type Outlook = Schemas['EnrolmentOutlook'];
export type Enrolment = Schemas['CourseEnrolment'];
export type Hold = Schemas['EndingHold'];
export type Call = Schemas['PersonToRing'];

export const bookedOf = ({ confirmed, held }: Enrolment) => confirmed + held;
/** Whether it may not run; what one group books or nobody is not waited for. */
export const isShort = (course: Enrolment) => course.kind !== 'private' && bookedOf(course) < course.minimum;

/** "Two of the five courses to come need more students to run. The first to decide is Mugs, by Friday 4 December." */
export function answerOf({ courses, today }: Outlook, { longDay }: Formatter): string {
  if (courses.length === 0) return 'No course is to come. Put one in the calendar from its plan.';
  const short = courses.filter(isShort).sort((a, b) => (a.decideOn ?? '').localeCompare(b.decideOn ?? ''));
  const [first] = short;
  const all = `the ${count(courses.length, 'course')} to come`;
  if (!first?.decideOn) return `${capital(all)} ${courses.length === 1 ? 'has' : 'have'} the students needed.`;
  const by = first.decideOn === today ? 'today' : `by ${longDay(first.decideOn)}`;
  const next =
    short.length === 1 ? `${first.title} is decided ${by}.` : `The first to decide is ${first.title}, ${by}.`;
  return `${capital(count(short.length, 'of', 'of'))} ${all} ${short.length === 1 ? 'needs' : 'need'} more students to run. ${next}`;
}

/** "3 booked, 1 held, 4 of 8 left." A private session is one group's. */
export function placesOf(course: Enrolment): string {
  const { kind, confirmed, held, offered, left, places, waiting } = course;
  if (kind === 'private') {
    if (bookedOf(course) === 0) return 'No group has booked it yet.';
    return `${held > 0 ? 'Held for' : 'Booked by'} a group of ${bookedOf(course)}.`;
  }
  const parts = [
    `${confirmed} booked`,
    held > 0 && `${held} held`,
    offered > 0 && `${offered} offered`,
    left > 0 ? `${left} of ${places} left` : 'full',
    waiting > 0 && `${waiting} more asked for by those who wait`,
  ].filter((part) => part !== false);
  return `${parts.join(', ')}.`;
}

/** "Needs two more by Friday 4 December: about 7 in 10, as likely as not by 1 December." Nothing of a private session. */
export function minimumOf(course: Enrolment, { longDay, date }: Formatter): string | null {
  const { kind, minimum, decideOn, expected } = course;
  if (kind === 'private') return null;
  if (decideOn === null) return 'Takes place however many come.';
  const missing = minimum - bookedOf(course);
  if (missing <= 0) return `Has the ${count(minimum, 'student')} it needs.`;
  const needs = `Needs ${count(missing, 'more', 'more')} by ${longDay(decideOn)}`;
  if (expected === null) return `${needs}.`;
  const by = expected.minimumOn === null ? '' : `, as likely as not by ${date(expected.minimumOn)}`;
  return `${needs}: ${chanceOf(Number(expected.minimumChance))}${by}.`;
}

function chanceOf(chance: number): string {
  const tenths = Math.round(chance * 10);
  if (tenths === 0) return 'hardly likely';
  if (tenths === 10) return 'almost sure';
  return `about ${tenths} in 10`;
}

/** "In the end about 6 of 8, in 8 cases of 10 from 4 to 8." */
export function expectedOf({ expected, places }: Enrolment): string | null {
  if (expected === null) return null;
  const { mean, low, high } = expected;
  const range = low === high ? '' : `, in 8 cases of 10 from ${low} to ${high}`;
  return `In the end about ${Math.round(Number(mean))} of ${places}${range}.`;
}

/** Where what is expected comes from. */
export const sourceOf = ({ expected, decideOn, decideOnIsSet }: Enrolment): string =>
  [
    expected?.detail,
    'It is corrected by how many have booked this course by now, and by how early people book: half of them in the last three weeks, as a rule of thumb that your own past courses correct.',
    decideOn !== null && !decideOnIsSet && 'No day of decision is set, so a week before it begins is taken.',
  ]
    .filter(Boolean)
    .join(' ');

/** What the picture of a course shows, in words. */
export const pictureOf = (course: Enrolment): string =>
  listed([placesOf(course).slice(0, -1), ...(course.minimum > 0 ? [`a minimum of ${course.minimum}`] : [])]);

const REASONS: Record<Call['because'], string> = {
  holdEnded: 'Their place was held and not paid',
  waitsElsewhere: 'Waits for another course like it',
};
export const reasonOf = ({ because }: Call): string => REASONS[because];

/** "Booking opens on 3 January."; '' where places are booked today. */
export function bookingOf({ bookableFrom, bookableUntil }: Enrolment, today: string, { date }: Formatter): string {
  if (bookableFrom !== null && today < bookableFrom) return `Booking opens on ${date(bookableFrom)}.`;
  return bookableUntil !== null && today > bookableUntil ? `Booking closed on ${date(bookableUntil)}.` : '';
}

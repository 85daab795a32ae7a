import { type Purpose, PURPOSES as TRADE_PURPOSES } from '../../../trade/calendar/production-lead-time.js';
import type { Schemas } from '../../api/client';
import { count, type Formatter } from '../../format/formatter';
import { placesLeftOn } from '../../format/places';

export type Course = Schemas['ListedCourse'];

type StateOf = Pick<Course, 'kind' | 'state' | 'placesTaken' | 'minimum'>;

/** What a course is to whoever plans the weeks. */
export function stateOf({ kind, state, placesTaken, minimum }: StateOf): string {
  switch (state) {
    case 'coming': {
      if (kind === 'private') return placesTaken > 0 ? 'Booked' : 'Not booked yet';
      const missing = minimum - placesTaken;
      return missing > 0 ? `Needs ${count(missing, 'student')} more to run` : 'Enough students';
    }
    case 'running':
      return 'Running now';
    case 'over':
      return 'Over, to complete';
    case 'completed':
      return 'Completed';
    case 'cancelled':
      return 'Cancelled';
  }
}

/** A course that may not run, or whose books are still open. */
export const isWaiting = ({ state, placesTaken, minimum }: StateOf) =>
  state === 'over' || (state === 'coming' && placesTaken < minimum);

/** "3 of 8 left", or "full, 8 taken"; a private session is one group's. */
export function placesLeft(course: Pick<Course, 'kind' | 'places' | 'placesTaken' | 'placesMadeUp' | 'state'>): string {
  if (course.state === 'cancelled') return '';
  if (course.kind === 'private')
    return course.placesTaken > 0 ? `a group of ${course.placesTaken}` : 'free for a group';
  const left = placesLeftOn(course);
  return left > 0 ? `${left} of ${course.places} left` : `full, ${course.placesTaken + course.placesMadeUp} taken`;
}

/** The month of a day: "March 2026". */
export const monthNamed = (day: string, { fullDate }: Formatter): string =>
  fullDate(day).replace(/^\d+ |(?<=^\p{L}+) \d+,/u, '');

/** The month of its next session, or in which it began where none is to come. */
export function monthOf(
  { sessions, nextStartsAt }: Pick<Course, 'sessions' | 'nextStartsAt'>,
  formatter: Formatter,
): string {
  const startsAt = nextStartsAt ?? sessions[0]?.startsAt;
  return startsAt ? monthNamed(formatter.dayOf(startsAt), formatter) : 'Without a day';
}

/** "Tuesday 3 March, 19:00", and how many sessions follow it. */
export function daysOf({ sessions }: Pick<Course, 'sessions'>, { longDay, time, dayOf }: Formatter): string {
  const [first] = sessions;
  if (!first) return '';
  const begins = `${longDay(dayOf(first.startsAt))}, ${time(first.startsAt)}`;
  return sessions.length === 1 ? begins : `${begins}; ${count(sessions.length, 'session')}`;
}

const FOR: Record<Purpose, string> = {
  making: 'making',
  finishing: 'finishing',
  slip: 'slip',
  glazing: 'glazing',
  lustre: 'lustre',
};
export const PURPOSES = TRADE_PURPOSES.map((purpose) => [purpose, FOR[purpose]] as const);

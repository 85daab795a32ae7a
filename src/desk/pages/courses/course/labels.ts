import { capital, count, type Formatter, listed } from '../../../format/formatter';
import { placesLeftOn } from '../../../format/places';
import { type Course, stateOf } from '../labels';
import type { Booking, Draw } from './queries';

export type Session = Course['sessions'][number];

/** What is left, whether it runs and when it begins, in a few sentences. */
export function answerOf(course: Course, formatter: Formatter): string {
  const { state, cancelled } = course;
  if (cancelled) {
    const on = formatter.date(formatter.dayOf(cancelled.at));
    return `Cancelled on ${on}: ${cancelled.because.replace(/(?<![.!?…])$/, '.')}`;
  }
  const said = course.kind === 'private' ? groupOf(course) : placesOf(course);
  const next = course.sessions[0];
  if (next && state === 'coming')
    said.push(`Begins on ${formatter.longDay(formatter.dayOf(next.startsAt))} at ${formatter.time(next.startsAt)}`);
  return `${said.join('. ')}.`;
}

function placesOf(course: Course): string[] {
  const { places, minimum, state } = course;
  const left = placesLeftOn(course);
  return [
    left > 0
      ? `${capital(count(left, 'place'))} of ${places} left`
      : `Full: ${places === 1 ? 'its one place is' : `all ${places} places are`} taken`,
    minimum > 0 && state === 'coming' ? `${stateOf(course)} (minimum ${minimum})` : stateOf(course),
  ];
}

/** A private session is one group's or nobody's. */
function groupOf({ placesTaken, state, ...course }: Course): string[] {
  const booked = placesTaken > 0 ? `Booked by a group of ${placesTaken}` : 'No group has booked it yet';
  return state === 'coming' ? [booked] : [booked, stateOf({ ...course, placesTaken, state })];
}

/** "Tuesday 3 March, 19:00 to 21:00"; with the day of its end only where it runs past midnight. */
export function timesOf({ startsAt, endsAt }: Session, { longDay, dayOf, time }: Formatter): string {
  const [from, to] = [dayOf(startsAt), dayOf(endsAt)];
  return `${longDay(from)}, ${time(startsAt)} to ${from === to ? '' : `${longDay(to)}, `}${time(endsAt)}`;
}

/** Those that take place and those that don't, in the order of time. */
export const allSessionsOf = ({ sessions, cancelledSessions }: Course): Session[] =>
  [...sessions, ...cancelledSessions].sort((a, b) => (a.startsAt < b.startsAt ? -1 : 1));

export const tutorsOf = ({ tutors }: Session): string => listed(tutors.map(({ name }) => name));

/** "Confirmed", or until when it is held. */
export function bookingState({ state, heldUntil }: Booking, { date, dayOf, time }: Formatter): string {
  if (state !== 'provisional' || heldUntil === null) return 'Confirmed';
  return `Held until ${date(dayOf(heldUntil))}, ${time(heldUntil)}`;
}

/** Who comes by a booking, each with the price that they pay where it is not the full one. */
export const attendeesOf = ({ attendees, unnamed }: Booking): string =>
  listed([
    ...attendees.map(({ name, concession }) => (concession ? `${name} (${concession})` : name)),
    ...(unnamed > 0 ? [`${unnamed} more without a name`] : []),
  ]);

export type Use = Pick<Draw, 'materialId' | 'materialName' | 'unit' | 'quantity'>;

/** What was drawn for a course, each material once with all of it. */
export function usesOf(draws: readonly Draw[]): Use[] {
  const uses = new Map<string, Use>();
  for (const { materialId, materialName, unit, quantity } of draws) {
    const before = uses.get(materialId)?.quantity ?? 0;
    uses.set(materialId, { materialId, materialName, unit, quantity: before + quantity });
  }
  return [...uses.values()];
}

/** "Booking opens on 3 January and closes after 20 January. For people aged 16 or over."; '' where nothing is said. */
export function sellingOf({ bookableFrom, bookableUntil, ageFrom, ageTo }: Course, { date }: Formatter): string {
  const days = [
    ...(bookableFrom ? [`opens on ${date(bookableFrom)}`] : []),
    ...(bookableUntil ? [`closes after ${date(bookableUntil)}`] : []),
  ];
  const ages =
    ageFrom !== null && ageTo !== null
      ? `For people aged ${ageFrom} to ${ageTo}.`
      : ageFrom !== null
        ? `For people aged ${ageFrom} or over.`
        : ageTo !== null
          ? `For people aged ${ageTo} or under.`
          : '';
  return [days.length > 0 ? `Booking ${listed(days)}.` : '', ages].filter((one) => one !== '').join(' ');
}

import type { Schemas } from '../../../api/client';
import { capital, count, type Formatter } from '../../../format/formatter';
import type { Tap } from './unsent';

export type Register = Schemas['Register'];
export type Session = Register['sessions'][number];
type Entry = Register['attendance'][number];

type MakeUp = Register['makeUps'][number];

/** Somebody who comes to a session: by a booking, or as a guest who makes up one of another course; or who makes it up elsewhere. */
export type Comer = {
  personId: string;
  name: string;
  bookedBy: string | null;
  bookingId: string | null;
  guest: MakeUp | null;
  elsewhere: MakeUp | null;
};

/** Who is expected at a session, the guests last. */
export function peopleAt({ people, makeUps }: Pick<Register, 'people' | 'makeUps'>, sessionId: string): Comer[] {
  const away = makeUps.filter(({ missed }) => missed.sessionId === sessionId);
  const guests = makeUps.filter(({ there }) => there.sessionId === sessionId);
  return [
    ...people.map((person) => ({
      ...person,
      guest: null,
      elsewhere: away.find(({ personId }) => personId === person.personId) ?? null,
    })),
    ...guests.map((guest) => ({
      ...{ personId: guest.personId, name: guest.name, bookedBy: null, bookingId: null, guest, elsewhere: null },
    })),
  ];
}

/** Which session is meant: the one asked for, else today's, else the latest that has begun, else the first. */
export function sessionMeant(
  sessions: readonly Session[],
  asked: string | undefined,
  today: string,
  { dayOf }: Pick<Formatter, 'dayOf'>,
): Session | undefined {
  const onDay = sessions.find(({ startsAt }) => dayOf(startsAt) === today);
  const begun = sessions.filter(({ startsAt }) => dayOf(startsAt) < today).at(-1);
  return sessions.find(({ id }) => id === asked) ?? onDay ?? begun ?? sessions[0];
}

/** What counts of somebody at a session: of what the server knows and what was tapped here, the latest. */
export function cameOf(
  personId: string,
  sessionId: string,
  attendance: readonly Entry[],
  taps: readonly Tap[],
): boolean | null {
  const known = attendance.find((entry) => entry.personId === personId && entry.sessionId === sessionId);
  const tap = taps.findLast((one) => one.personId === personId && one.sessionId === sessionId);
  if (!tap) return known?.came ?? null;
  return known && known.notedAt > tap.notedAt ? known.came : tap.came;
}

/** "Two of 6 came, one did not." */
export function answerOf(came: readonly (boolean | null)[]): string {
  if (came.length === 0) return 'Nobody has booked.';
  const [there, missing] = [came.filter((one) => one === true).length, came.filter((one) => one === false).length];
  if (there + missing === 0) return `${capital(count(came.length, 'person', 'people'))} to come.`;
  const open = came.length - there - missing;
  const said = [`${capital(count(there, 'person', 'people'))} of ${came.length} came`];
  if (missing > 0) said.push(`${count(missing, 'person', 'people')} did not`);
  if (open > 0) said.push(`${count(open, 'person is', 'people are')} not noted yet`);
  return `${said.join(', ')}.`;
}

/** What waits on this device, and what becomes of it. */
export function unsentOf(unsent: number, isKept: boolean): string {
  const [they, are] = unsent === 1 ? ['It', 'is'] : ['They', 'are'];
  const said = `The server can’t be reached. ${capital(count(unsent, 'tap'))} ${are} not sent yet.`;
  return isKept
    ? `${said} ${they} ${are} kept on this device and sent when the connection is back, also if you close this page and open it again.`
    : `${said} This browser keeps nothing, so leave this page open until the connection is back.`;
}

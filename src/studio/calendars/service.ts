import type { Database, Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem, see } from '../../problems.js';
import { getStudio } from '../settings/service.js';
import { tokenHash } from '../staff/secrets.js';
import type { CalendarFeed, NewCalendarFeed } from './contract.js';
import { feedFile } from './feed-file.js';
import { listFeedSessions, lockFeeds } from './queries.js';

const DAY_MILLISECONDS = 86_400_000;
/** What is past stays in a calendar for so long. */
const DAYS_BACK = 60;
/** It is noted by the hour when somebody's calendar read one: they ask all day long. */
const NOTED_EVERY_MILLISECONDS = 3_600_000;

const OPEN = {
  calendarFeeds: { where: { endedAt: null }, include: { madeBy: { select: { name: true } } } },
} as const;

/** The studio, its rooms and those who teach, each with its address where it has one. */
export async function listFeeds(tx: Transaction): Promise<CalendarFeed[]> {
  const studio = await getStudio(tx);
  const where = { roomId: null, staffMemberId: null, endedAt: null };
  const ofStudio = await tx.calendarFeed.findMany({ where, include: OPEN.calendarFeeds.include });
  const rooms = await tx.room.findMany({ include: OPEN, orderBy: { name: 'asc' } });
  const staff = await tx.staffMember.findMany({ where: { removedAt: null }, include: OPEN, orderBy: { name: 'asc' } });
  return [
    { of: 'studio', subjectId: null, name: studio.name, feed: shown(ofStudio) },
    ...rooms.map(({ id, name, calendarFeeds }) => ({
      of: 'room' as const,
      subjectId: id,
      name,
      feed: shown(calendarFeeds),
    })),
    ...staff.map(({ id, name, calendarFeeds }) => ({
      of: 'tutor' as const,
      subjectId: id,
      name,
      feed: shown(calendarFeeds),
    })),
  ];
}

type Row = { id: string; createdAt: Date; lastReadAt: Date | null; madeBy: { name: string } };

function shown([row]: readonly Row[]): CalendarFeed['feed'] {
  if (!row) return null;
  const { id, createdAt, lastReadAt, madeBy } = row;
  return { id, createdAt: createdAt.toISOString(), madeBy: madeBy.name, lastReadAt: lastReadAt?.toISOString() ?? null };
}

/** Makes a secret address for a calendar; an earlier one of the same ends. Of the token only a hash is kept. */
export async function addFeed(
  tx: Transaction,
  now: Date,
  { staffMemberId: madeById }: { staffMemberId: string },
  { of, subjectId, token }: NewCalendarFeed & { token: string },
): Promise<CalendarFeed> {
  const subject = { roomId: of === 'room' ? subjectId : null, staffMemberId: of === 'tutor' ? subjectId : null };
  if (!(await listFeeds(tx)).some((each) => each.of === of && each.subjectId === subjectId))
    throw new Problem(
      'not-found',
      `There is no such ${of === 'room' ? 'room' : 'member of staff'}. Load the page again.`,
      see('studio', '/api/calendar-feeds'),
    );
  await lockFeeds(tx);
  await tx.calendarFeed.updateMany({ where: { ...subject, endedAt: null }, data: { endedAt: now } });
  const data = { id: newId(), ...subject, madeById, createdAt: now, tokenHash: tokenHash(token) };
  const { id } = await tx.calendarFeed.create({ data });
  const made = (await listFeeds(tx)).find(({ feed }) => feed?.id === id);
  if (!made) throw new Error('A feed that was just made is among all.');
  return made;
}

/** Ends an address: calendars that read it are told that there is none. */
export async function endFeed(tx: Transaction, now: Date, id: string): Promise<{ id: string }> {
  const { count } = await tx.calendarFeed.updateMany({ where: { id, endedAt: null }, data: { endedAt: now } });
  if (count === 0 && !(await tx.calendarFeed.findUnique({ where: { id } })))
    throw new Problem(
      'not-found',
      'No calendar has this id. Load the page again.',
      see('studio', '/api/calendar-feeds'),
    );
  return { id };
}

/** What a calendar reads by its secret, and whether that was noted within the hour. @throws Problem not-found where it was renewed, has ended, or never was */
export async function readFeed(tx: Transaction, now: Date, token: string): Promise<{ file: string; isNoted: boolean }> {
  const where = { tokenHash: tokenHash(token), endedAt: null };
  const feed = await tx.calendarFeed.findFirst({ where, include: { room: true, staffMember: true } });
  if (!feed || feed.staffMember?.removedAt)
    throw new Problem('not-found', 'This calendar was renewed or has ended. Ask the studio for its new address.');
  const { name } = await getStudio(tx);
  const after = new Date(now.getTime() - DAYS_BACK * DAY_MILLISECONDS);
  const sessions = await listFeedSessions(tx, after, feed);
  const whose = feed.room?.name ?? feed.staffMember?.name;
  return {
    file: feedFile(whose === undefined ? name : `${name}: ${whose}`, sessions, now),
    isNoted: feed.lastReadAt !== null && now.getTime() - feed.lastReadAt.getTime() < NOTED_EVERY_MILLISECONDS,
  };
}

/** Notes that a calendar read its feed, after it was answered from its snapshot: as with a token, nothing depends on it. */
export async function noteFeedRead({ db, now }: { db: Database; now(): Date }, token: string): Promise<void> {
  const where = { tokenHash: tokenHash(token), endedAt: null };
  await db.calendarFeed.updateMany({ where, data: { lastReadAt: now() } });
}

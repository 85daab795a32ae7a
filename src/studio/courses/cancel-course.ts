import { changed, type Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { formatDay } from '../../trade/text/format.js';
import type { Studio } from '../settings/contract.js';
import { getStudio } from '../settings/service.js';
import type { Member } from './changes.js';
import type { CancellationCause, Course } from './contract.js';
import { listPlanMaterials } from './queries.js';
import { keyOf } from './service.js';
import { sessionInWords } from './session-dates.js';

/** Refuses to cancel what is cancelled, over or begun as a whole. Call it under the course's lock. */
export async function refuseUncancellable(tx: Transaction, now: Date, course: Course): Promise<void> {
  const { title, cancelled, completedOn, sessions } = course;
  const studio = await getStudio(tx);
  if (cancelled)
    throw new Problem(
      'already-cancelled',
      `"${title}" was cancelled before, on ${formatDay(localDay(new Date(cancelled.at), studio.timeZone), studio.locale)}. Nothing was changed.`,
    );
  const refuse = (sentence: string): never => {
    throw new Problem('course-over', sentence);
  };
  if (completedOn !== null)
    refuse(`"${title}" was completed on ${formatDay(completedOn, studio.locale)}, so it can’t be cancelled.`);
  if (sessions.every(({ endsAt }) => new Date(endsAt) <= now))
    refuse(`"${title}" has taken place. Complete it instead; a refund is given by cancelling a booking first.`);
  const begun = sessions.find(({ startsAt }) => new Date(startsAt) <= now);
  const noted = begun ?? (await firstNoted(tx, course));
  if (noted)
    refuse(
      `Session ${noted.ordinal} has taken place, on ${sessionInWords(noted, studio)}, so "${title}" can’t be cancelled as a whole. Cancel the sessions that are left, and give back their part of the price.`,
    );
}

/** The first session at which it is noted that somebody came. */
async function firstNoted(tx: Transaction, { sessions }: Course): Promise<Course['sessions'][number] | undefined> {
  const rows = await tx.attendance.findMany({
    where: { sessionId: { in: sessions.map(({ id }) => id) } },
    orderBy: [{ notedAt: 'asc' }, { id: 'asc' }],
  });
  const latest = new Map(
    rows.map(({ sessionId, personId, came }) => [`${sessionId} ${personId}`, { sessionId, came }]),
  );
  const ids = new Set([...latest.values()].filter(({ came }) => came).map(({ sessionId }) => sessionId));
  return sessions.find(({ id }) => ids.has(id));
}

/** Those of these sessions at which it is noted that somebody came; the latest entry counts. */
export async function sessionsWithPeople(tx: Transaction, sessionIds: readonly string[]): Promise<Set<string>> {
  const rows = await tx.attendance.findMany({
    where: { sessionId: { in: [...sessionIds] } },
    orderBy: [{ notedAt: 'asc' }, { id: 'asc' }],
  });
  const latest = new Map(
    rows.map(({ sessionId, personId, came }) => [`${sessionId} ${personId}`, { sessionId, came }]),
  );
  return new Set([...latest.values()].filter(({ came }) => came).map(({ sessionId }) => sessionId));
}

/** Frees the rooms and tutors of sessions that do not take place. */
export async function cancelSessions(
  tx: Transaction,
  now: Date,
  sessionIds: readonly string[],
  because: string,
): Promise<void> {
  const id = { in: [...sessionIds] };
  await tx.sessionTutor.deleteMany({ where: { sessionId: id } });
  await tx.session.updateMany({
    where: { id, cancelledAt: null },
    data: { cancelledAt: now, cancelledBecause: because },
  });
}

type Cancelled = { cause: CancellationCause; reason: string };

/** Cancels a course itself, once nobody has a place on it or waits for one; its sessions are cancelled with it. */
export async function markCancelled(
  tx: Transaction,
  now: Date,
  { staffMemberId }: Member,
  { id, sessions }: Course,
  { cause, reason }: Cancelled,
): Promise<void> {
  await cancelSessions(
    tx,
    now,
    sessions.map((session) => session.id),
    reason,
  );
  await tx.course.update({
    where: { id },
    data: { cancelledAt: now, cancelledById: staffMemberId, cancelledFor: cause, cancelledBecause: reason },
  });
  changed(tx, keyOf(id));
}

/** What cancelling a course frees: its sessions with their rooms and tutors, and the materials that are set aside for its plan. */
export async function freedBy(tx: Transaction, { planId, sessions }: Course, studio: Studio) {
  const materials = await listPlanMaterials(tx, [planId]);
  return {
    sessions: sessions.map((session) => ({
      ...{ sessionId: session.id, when: sessionInWords(session, studio), roomName: session.roomName },
      tutors: session.tutors.map(({ name }) => name),
    })),
    materials: materials.map(({ name }) => name),
  };
}

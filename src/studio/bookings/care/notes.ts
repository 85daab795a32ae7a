import type { Transaction } from '../../../database/transaction.js';
import { newId } from '../../../http/ids.js';
import type { Role } from '../../../http/rights.js';
import type { Session } from '../../courses/contract.js';
import { getCourse } from '../../courses/service.js';
import { getPerson, lockPerson } from '../../people/service.js';
import { listLapsedHolds } from '../queries.js';
import type { CareNote, CourseCareNotes, NewCareNote } from './contract.js';

type Viewer = { staffMemberId: string; role: Role };

/** What somebody told the studio about health or access, and who noted it; for owners. */
export async function getCareNote(tx: Transaction, personId: string): Promise<CareNote> {
  await getPerson(tx, personId);
  const row = await tx.careNote.findUnique({ where: { personId } });
  const changes = await tx.careNoteChange.findMany({
    where: { personId },
    include: { madeBy: { select: { name: true } } },
    orderBy: { id: 'asc' },
  });
  return {
    careNote: row?.note ?? null,
    changes: changes.map(({ what, at, madeBy }) => ({ what, at: at.toISOString(), by: madeBy.name })),
  };
}

/** The same, which nobody else can change until the transaction ends. */
export async function lockCareNote(tx: Transaction, personId: string): Promise<CareNote> {
  await lockPerson(tx, personId);
  return getCareNote(tx, personId);
}

/** Replaces it. What it said is gone; who did it, and when, is kept. Lock it first. */
export async function changeCareNote(
  tx: Transaction,
  now: Date,
  { staffMemberId: madeById }: Pick<Viewer, 'staffMemberId'>,
  personId: string,
  { careNote: wanted }: NewCareNote,
): Promise<CareNote> {
  const before = (await tx.careNote.findUnique({ where: { personId } }))?.note ?? null;
  const note = wanted === null ? null : wanted.trim();
  if (note === before) return getCareNote(tx, personId);
  const what = note === null ? 'removed' : before === null ? 'added' : 'changed';
  await tx.careNoteChange.create({ data: { id: newId(), personId, what, at: now, madeById } });
  if (note === null) await tx.careNote.delete({ where: { personId } });
  else await tx.careNote.upsert({ where: { personId }, create: { personId, note }, update: { note } });
  return getCareNote(tx, personId);
}

const DAY_MILLISECONDS = 86_400_000;

/** The notes of those who come, by session: for an owner all, for a tutor those of the sessions that they teach, until a day after. */
export async function listCareNotes(
  tx: Transaction,
  now: Date,
  { staffMemberId, role }: Viewer,
  courseId: string,
): Promise<CourseCareNotes> {
  const { sessions } = await getCourse(tx, courseId);
  const isOwn = ({ tutors, endsAt }: Session) =>
    tutors.some(({ id }) => id === staffMemberId) && now.getTime() - Date.parse(endsAt) <= DAY_MILLISECONDS;
  const own = sessions.filter((session) => role === 'owner' || isOwn(session));
  if (own.length === 0) return { notes: [] };
  const lapsed = (await listLapsedHolds(tx, now, courseId)).map(({ id }) => id); // as on the register
  const rows = await tx.careNote.findMany({
    where: { person: { places: { some: { booking: { courseId, cancelledAt: null, id: { notIn: lapsed } } } } } },
    orderBy: { personId: 'asc' },
  });
  const ofPlaces = own.flatMap(({ id: sessionId }) => rows.map((row) => ({ sessionId, ...row })));
  const notes = [...ofPlaces, ...(await notesOfMakeUps(tx, own))];
  return { notes: notes.map(({ sessionId, personId, note: careNote }) => ({ sessionId, personId, careNote })) };
}

/** Of those who come to one of the sessions to make up another. */
async function notesOfMakeUps(tx: Transaction, sessions: readonly Session[]) {
  const rows = await tx.makeUp.findMany({
    where: { sessionId: { in: sessions.map(({ id }) => id) }, endedAt: null, person: { careNote: { isNot: null } } },
    select: { sessionId: true, personId: true, person: { select: { careNote: true } } },
    orderBy: { personId: 'asc' },
  });
  return rows.map(({ sessionId, personId, person }) => ({ sessionId, personId, note: person.careNote?.note ?? '' }));
}

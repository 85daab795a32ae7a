import { changed, type Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem, see } from '../../problems.js';
import { releaseExpired } from '../bookings/holds.js';
import { lockCourse } from '../courses/service.js';
import type { NewPerson, Person } from '../people/contract.js';
import { changePerson, getPeople, getPerson, getPersonAt } from '../people/service.js';
import { refuseClashes } from './clashes.js';
import { type Merge, type MergedField, type MergeOutcome, MOVED, type Moved, type NewMerge } from './contract.js';
import {
  dropDoubleEntries,
  getBalanceMinor,
  listSharedCourses,
  lockBoth,
  moveRows,
  noteAttendanceAgain,
} from './queries.js';

type Member = { staffMemberId: string };

/**
 * Makes two entries of one person one. All that is of the other becomes that of `staysId`, also what never changes otherwise; what was
 * known of both is kept with who merged them, and the other's address leads on.
 */
export async function mergePeople(
  tx: Transaction,
  now: Date,
  { staffMemberId }: Member,
  staysId: string,
  { otherId: goneId, take }: NewMerge,
): Promise<MergeOutcome> {
  if (staysId === goneId)
    throw new Problem('invalid-request', 'That is the same entry. Choose another one of this person.', {
      errors: [{ pointer: '#/otherId', detail: 'must be another person than the one of the address' }],
    });
  const pair = { goneId, staysId };
  await getPeople(tx, [staysId, goneId]);
  for (const courseId of await listSharedCourses(tx, pair)) {
    await lockCourse(tx, courseId);
    await releaseExpired(tx, now, courseId);
  }
  await lockBoth(tx, pair);
  changed(tx, `person ${staysId}`);
  changed(tx, `person ${goneId}`);
  const [stays, gone] = [await getPerson(tx, staysId), await getPerson(tx, goneId)];
  await refuseClashes(tx, now, pair);
  const taken = take ?? lackedBy(stays, gone);
  const wanted = { ...wishesOf(stays), ...Object.fromEntries(taken.map((field) => [field, gone[field]])) };
  const [balanceMinor, intoBalanceMinor] = [await getBalanceMinor(tx, goneId), await getBalanceMinor(tx, staysId)];
  await tx.personMerge.create({
    data: {
      ...{ id: goneId, intoId: staysId, mergedAt: now, mergedById: staffMemberId },
      ...{ was: gone, intoWas: stays, balanceMinor, intoBalanceMinor },
    },
  });
  await joinCareNotes(tx, now, staffMemberId, pair);
  await forgetDistinctions(tx, pair);
  await dropDoubleEntries(tx, pair);
  await joinGuardians(tx, pair);
  await noteAttendanceAgain(tx, pair, now, staffMemberId);
  await keepFindable(tx, pair, [gone, stays]);
  const moved = await moveRows(tx, pair);
  await tx.person.delete({ where: { id: goneId } });
  changed(tx, `person ${goneId}`);
  const person = await changePerson(tx, staysId, wanted as NewPerson);
  if (!person.isChild) await tx.guardian.deleteMany({ where: { childId: staysId } });
  await tx.personMerge.update({ where: { id: goneId }, data: { moved } });
  const [merge] = await listMerges(tx, staysId, [goneId]);
  if (!merge) throw new Error('A merge that was just noted is not there.');
  return { person, taken: [...taken], merge, balanceMinor: await getBalanceMinor(tx, staysId) };
}

const wishesOf = ({ id: _, ...person }: Person): NewPerson => person;
const isEmpty = (value: Person[MergedField]) =>
  value === null || value === false || (value !== true && value.length === 0);

/** What the one who stays does not have, and the earlier day of joining. */
function lackedBy(stays: Person, gone: Person): MergedField[] {
  const fields = (
    ['paperName', 'email', 'phone', 'addressLines', 'memberSince', 'isChild', 'wishes', 'note'] as const
  ).filter((field) => isEmpty(stays[field]) && !isEmpty(gone[field]));
  const isEarlier = gone.memberSince !== null && stays.memberSince !== null && gone.memberSince < stays.memberSince;
  return isEarlier ? [...fields, 'memberSince'] : fields;
}

const NOTE_MAX = 500;

/** Two notes on health become one that says both: nobody chooses which of two allergies counts. */
async function joinCareNotes(
  tx: Transaction,
  at: Date,
  madeById: string,
  { goneId, staysId }: { goneId: string; staysId: string },
): Promise<void> {
  const [other, own] = [
    await tx.careNote.findUnique({ where: { personId: goneId } }),
    await tx.careNote.findUnique({ where: { personId: staysId } }),
  ];
  if (!other) return;
  const change = (personId: string) =>
    tx.careNoteChange.create({ data: { id: newId(), personId, what: 'changed', at, madeById } });
  if (!own) {
    await change(goneId); // and goes over with the note
    return;
  }
  const note = own.note === other.note ? own.note : `${own.note}\n${other.note}`;
  if (note.length > NOTE_MAX)
    throw new Problem(
      'still-needed',
      `Both have a note on health and access, and together they have more than ${NOTE_MAX} characters. Shorten one of them first.`,
      see('people', `/api/people/${goneId}/care-note`),
    );
  await change(staysId);
  await tx.careNote.update({ where: { personId: staysId }, data: { note } });
  await tx.careNote.delete({ where: { personId: goneId } });
}

/** From whom the other was told apart, the one who stays is too. */
async function forgetDistinctions(tx: Transaction, { goneId, staysId }: { goneId: string; staysId: string }) {
  const where = { OR: [{ oneId: goneId }, { otherId: goneId }] };
  const rows = await tx.twoPeople.findMany({ where });
  await tx.twoPeople.deleteMany({ where });
  const data = rows.flatMap(({ oneId, otherId, ...noted }) => {
    const third = oneId === goneId ? otherId : oneId;
    return third === staysId ? [] : [{ ...inOrder(staysId, third), ...noted }];
  });
  await tx.twoPeople.createMany({ data, skipDuplicates: true });
}

/** Who answered for either of two children answers for the one, and for whom either of two answered the one does. */
async function joinGuardians(tx: Transaction, { goneId, staysId }: { goneId: string; staysId: string }) {
  const now = (id: string) => (id === goneId ? staysId : id);
  const children = await tx.guardian.findMany({
    where: { OR: [{ childId: { in: [goneId, staysId] } }, { guardianId: goneId }] },
    select: { childId: true },
  });
  const where = { childId: { in: children.map(({ childId }) => childId) } };
  const rows = await tx.guardian.findMany({ where, orderBy: { ordinal: 'asc' } });
  const own = [...rows].sort((a, b) => Number(a.childId === goneId) - Number(b.childId === goneId));
  const byChild = new Map<string, Set<string>>();
  for (const { childId, guardianId } of own)
    byChild.set(now(childId), (byChild.get(now(childId)) ?? new Set()).add(now(guardianId)));
  await tx.guardian.deleteMany({ where });
  const data = [...byChild].flatMap(([childId, guardianIds]) =>
    [...guardianIds].map((guardianId, i) => ({ childId, guardianId, ordinal: i + 1 })),
  );
  await tx.guardian.createMany({ data });
}

/** By whatever name, address or number either was known, the one who stays is found. */
async function keepFindable(
  tx: Transaction,
  { goneId, staysId }: { goneId: string; staysId: string },
  people: readonly Person[],
): Promise<void> {
  const before = await tx.person.findMany({ where: { id: { in: [goneId, staysId] } }, select: { also: true } });
  const said = [...before.map(({ also }) => also), ...people.flatMap(({ name, email, phone }) => [name, email, phone])];
  const also = [...new Set(said.filter((one) => one !== null))].join(' ');
  await tx.person.update({ where: { id: staysId }, data: { also }, select: { id: true } });
}

export const inOrder = (a: string, b: string) => (a < b ? { oneId: a, otherId: b } : { oneId: b, otherId: a });

/** What rows of a table are, by the column that names a person. */
export const WHAT: Readonly<Record<string, Moved['what']>> = {
  ...{ 'booking.payer_id': 'bookings', 'place.person_id': 'places', 'cancelled_place.person_id': 'cancelledPlaces' },
  ...{ 'waiting_entry.person_id': 'waits', 'make_up.person_id': 'makeUps', 'attendance.person_id': 'attendances' },
  ...{ 'charge.person_id': 'charges', 'payment.person_id': 'payments', 'posting.person_id': 'postings' },
  ...{ 'voucher.buyer_id': 'vouchers', 'notice.person_id': 'letters', 'piece.maker_id': 'pieces' },
  ...{ 'share.person_id': 'firingShares', 'firing_charge.person_id': 'firingBills' },
  ...{ 'care_note.person_id': 'careNotes', 'care_note_change.person_id': 'careNoteChanges' },
  ...{
    'person_merge.into_id': 'merges',
    'consent.child_id': 'consents',
    'consent.given_by_id': 'consents',
    'membership.person_id': 'memberships',
  },
  'calendar_entry.person_id': 'calendarEntries',
};

/** The entries that became part of a person's, the latest first. */
export async function listMerges(tx: Transaction, personId: string, ids?: readonly string[]): Promise<Merge[]> {
  const { id: intoId } = await getPersonAt(tx, personId);
  const rows = await tx.personMerge.findMany({
    where: { intoId, ...(ids && { id: { in: [...ids] } }) },
    include: { mergedBy: { select: { name: true } } },
    orderBy: [{ mergedAt: 'desc' }, { id: 'desc' }],
  });
  return rows.map((row) => ({
    ...{ id: row.id, was: row.was as Person, intoWas: row.intoWas as Person },
    ...{ mergedAt: row.mergedAt.toISOString(), mergedBy: row.mergedBy.name, moved: countsOf(row.moved) },
    ...{ balanceMinor: Number(row.balanceMinor), intoBalanceMinor: Number(row.intoBalanceMinor) },
  }));
}

function countsOf(moved: unknown): Moved[] {
  const rows = new Map<Moved['what'], number>();
  for (const [column, keys] of Object.entries((moved ?? {}) as Record<string, unknown[]>)) {
    const what = WHAT[column] ?? 'other';
    rows.set(what, (rows.get(what) ?? 0) + keys.length);
  }
  return MOVED.flatMap((what) => (rows.has(what) ? [{ what, rows: rows.get(what) ?? 0 }] : []));
}

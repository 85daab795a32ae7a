import type { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';
import { fromDate, toDate } from '../../../database/values.js';
import { newId } from '../../../http/ids.js';
import { Problem, see } from '../../../problems.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import { getCourse } from '../../courses/service.js';
import { getGuardians } from '../../people/guardians.js';
import { getPerson, getPersonAt, lockPerson } from '../../people/service.js';
import { getStudio } from '../../settings/service.js';
import type { Consent, NewConsent } from './contract.js';

type Member = { staffMemberId: string };
const WITH_NAMES = {
  givenBy: { select: { name: true } },
  notedBy: { select: { name: true } },
  withdrawnBy: { select: { name: true } },
  course: { select: { title: true } },
} as const satisfies Prisma.ConsentInclude;

const show = (row: Prisma.ConsentGetPayload<{ include: typeof WITH_NAMES }>): Consent => ({
  ...{ id: row.id, childId: row.childId, givenById: row.givenById, givenByName: row.givenBy.name },
  ...{ courseId: row.courseId, courseTitle: row.course?.title ?? null },
  ...{ givenOn: fromDate(row.givenOn), means: row.means, what: row.what },
  ...{ notedAt: row.notedAt.toISOString(), notedBy: row.notedBy.name },
  ...{ withdrawnAt: row.withdrawnAt?.toISOString() ?? null, withdrawnBy: row.withdrawnBy?.name ?? null },
});

/** Every consent that was noted for a child, the latest first, those withdrawn among them. */
export async function listConsents(tx: Transaction, personId: string): Promise<Consent[]> {
  const { id: childId } = await getPersonAt(tx, personId);
  const rows = await tx.consent.findMany({ where: { childId }, include: WITH_NAMES, orderBy: { id: 'desc' } });
  return rows.map(show);
}

/** The consent that counts for each of these children on a course: the latest that is of it or of all, and was not withdrawn. */
export async function consentsOn(
  tx: Transaction,
  courseId: string,
  childIds: readonly string[],
): Promise<Map<string, Consent>> {
  if (childIds.length === 0) return new Map();
  const rows = await tx.consent.findMany({
    where: { childId: { in: [...childIds] }, withdrawnAt: null, OR: [{ courseId }, { courseId: null }] },
    include: WITH_NAMES,
    orderBy: { id: 'asc' },
  });
  return new Map(rows.map((row) => [row.childId, show(row)]));
}

/** Notes that a guardian agreed to something for a child. */
export async function noteConsent(
  tx: Transaction,
  now: Date,
  { staffMemberId: notedById }: Member,
  childId: string,
  { givenById, courseId, givenOn, means, what }: NewConsent,
): Promise<Consent> {
  const child = await lockPerson(tx, childId);
  await getPerson(tx, givenById);
  const { guardians } = await getGuardians(tx, childId);
  if (!child.isChild || !guardians.some(({ personId }) => personId === givenById))
    throw new Problem(
      'not-a-child',
      child.isChild
        ? `Only a guardian of ${child.name} can agree to that. Add them to the guardians on ${child.name}’s page first.`
        : `${child.name} is grown up, and agrees themselves. If they are a child, say so under “Change this person”.`,
      see('people', `/api/people/${childId}`),
    );
  if (courseId !== null) await getCourse(tx, courseId);
  const today = localDay(now, (await getStudio(tx)).timeZone);
  if (givenOn !== undefined && givenOn > today)
    throw new Problem('invalid-request', 'A consent is noted once it was given. Choose today or a day before.', {
      errors: [{ pointer: '#/givenOn', detail: 'must not be a day to come' }],
    });
  const { id } = await tx.consent.create({
    data: {
      ...{ id: newId(), childId, givenById, courseId, means, what, notedAt: now, notedById },
      givenOn: toDate(givenOn ?? today),
    },
    select: { id: true },
  });
  return getConsent(tx, id);
}

/** Notes that a consent counts no more; what was agreed to until then stays readable. */
export async function withdrawConsent(
  tx: Transaction,
  now: Date,
  { staffMemberId: withdrawnById }: Member,
  id: string,
): Promise<Consent> {
  const before = await getConsent(tx, id);
  await lockPerson(tx, before.childId);
  if ((await getConsent(tx, id)).withdrawnAt !== null)
    throw new Problem('already-cancelled', 'This consent was withdrawn before. Look it up on the page of the child.');
  await tx.consent.update({ where: { id }, data: { withdrawnAt: now, withdrawnById }, select: { id: true } });
  return getConsent(tx, id);
}

async function getConsent(tx: Transaction, id: string): Promise<Consent> {
  const row = await tx.consent.findUnique({ where: { id }, include: WITH_NAMES });
  if (!row)
    throw new Problem(
      'not-found',
      'This consent does not exist. Look for it on the page of the child.',
      see('people', '/api/people'),
    );
  return show(row);
}

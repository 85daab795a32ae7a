import type { Transaction } from '../../database/transaction.js';
import { toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { invalidRequest, Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { getStudio } from '../settings/service.js';
import { type Member, noteChange, refuseCompleted } from './changes.js';
import type { Course } from './contract.js';
import type { CourseTerms } from './course-terms-contract.js';
import { termsChanged } from './course-terms-words.js';
import { partsOfPrice } from './price-tax-split.js';
import { getChangedCourse, getCourseToday, lockCourse } from './service.js';
import { getTermsOfSale } from './terms-of-sale.js';

const termsOf = (course: Course): CourseTerms => ({
  ...{ priceMinor: course.priceMinor, laterPrice: course.laterPrice, perHeadAboveMinor: course.perHeadAboveMinor },
  concessions: course.concessions.map(({ label, priceMinor, atMost, payments }) => ({
    ...{ label, priceMinor, atMost, payments },
  })),
  ...{ depositMinor: course.depositMinor, holdHours: course.holdHours, balanceDueDays: course.balanceDueDays },
  ...{ balancePayments: course.balancePayments, balanceEveryDays: course.balanceEveryDays },
  ...{ bookableFrom: course.bookableFrom, bookableUntil: course.bookableUntil },
  ...{ ageFrom: course.ageFrom, ageTo: course.ageTo },
});

export const getTerms = async (tx: Transaction, now: Date, id: string) => termsOf(await getCourseToday(tx, now, id));

/** The same, with the course locked until this transaction ends. */
export async function lockTerms(tx: Transaction, now: Date, id: string): Promise<CourseTerms> {
  await lockCourse(tx, id);
  return getTerms(tx, now, id);
}

/** Changes on what terms places are sold from now on; lock it first. What is booked keeps its price and its days of payment. */
export async function changeTerms(
  tx: Transaction,
  now: Date,
  member: Member,
  id: string,
  wanted: CourseTerms,
): Promise<CourseTerms> {
  const course = await getCourseToday(tx, now, id);
  refuseCompleted(course);
  const studio = await getStudio(tx);
  const today = localDay(now, studio.timeZone);
  refuseWrong(course, wanted, {
    today,
    begins: localDay(new Date(course.sessions[0]?.startsAt ?? now), studio.timeZone),
  });
  const { plan } = await getTermsOfSale(tx, id);
  for (const priceMinor of pricesOf(wanted)) partsOfPrice(plan, priceMinor, 1);
  const { laterPrice, concessions, bookableFrom, bookableUntil, ...terms } = wanted;
  await changeConcessions(tx, id, concessions);
  await keepPrices(tx, now, member, course, wanted);
  await tx.course.update({
    where: { id },
    data: {
      ...terms,
      laterPriceFrom: laterPrice && toDate(laterPrice.from),
      laterPriceMinor: laterPrice?.priceMinor ?? null,
      bookableFrom: bookableFrom && toDate(bookableFrom),
      bookableUntil: bookableUntil && toDate(bookableUntil),
    },
  });
  for (const what of termsChanged(termsOf(course), wanted, studio)) await noteChange(tx, now, member, id, what);
  await getChangedCourse(tx, id);
  return getTerms(tx, now, id);
}

const pricesOf = ({ priceMinor, laterPrice, concessions }: CourseTerms): number[] => [
  ...[priceMinor, ...(laterPrice ? [laterPrice.priceMinor] : [])],
  ...concessions.map((concession) => concession.priceMinor),
];

type Days = { today: string; begins: string };

/** Each fault by its field. */
function refuseWrong({ kind }: Course, wanted: CourseTerms, { today, begins }: Days): void {
  const { priceMinor, laterPrice, concessions, depositMinor, bookableFrom, bookableUntil, ageFrom, ageTo } = wanted;
  const least = Math.min(priceMinor, laterPrice?.priceMinor ?? priceMinor);
  const isPrivate = kind === 'private';
  const faults: (readonly [string, string] | false)[] = [
    depositMinor > least && ['depositMinor', 'must be at most the price'],
    laterPrice !== null && laterPrice.from <= today && ['laterPrice/from', 'must be a day after today'],
    laterPrice !== null && laterPrice.from > begins && ['laterPrice/from', 'must not be after the course begins'],
    isPrivate !== (wanted.perHeadAboveMinor !== null) && [
      'perHeadAboveMinor',
      isPrivate ? 'is needed for a private session' : 'must be null: it is not a private session',
    ],
    isPrivate && concessions.length > 0 && ['concessions', 'must be none: a group has one price'],
    bookableFrom !== null && bookableFrom > begins && ['bookableFrom', 'must not be after the course begins'],
    bookableFrom !== null &&
      bookableUntil !== null &&
      bookableUntil < bookableFrom && ['bookableUntil', 'must not be before booking opens'],
    ageFrom !== null && ageTo !== null && ageTo < ageFrom && ['ageTo', 'must be at least the youngest age'],
    ...concessions.map(
      (concession, i) =>
        concession.priceMinor > least && ([`concessions/${i}/priceMinor`, 'must be at most the full price'] as const),
    ),
  ];
  const errors = faults.filter((fault) => fault !== false).map(([at, detail]) => ({ pointer: `#/${at}`, detail }));
  if (errors.length > 0) throw invalidRequest(errors);
}

/** By their labels: those that places were booked at are kept, and offered no more where they are left out. */
async function changeConcessions(tx: Transaction, courseId: string, wanted: CourseTerms['concessions']): Promise<void> {
  const before = await tx.courseConcession.findMany({
    where: { courseId },
    orderBy: { ordinal: 'asc' },
    include: { _count: { select: { places: { where: { booking: { cancelledAt: null } } } } } },
  });
  const known = new Map(before.map((row) => [row.label, row]));
  let ordinal = before.at(-1)?.ordinal ?? 0;
  for (const { label, ...terms } of wanted) {
    const row = known.get(label);
    const taken = row?._count.places ?? 0;
    if (terms.atMost !== null && terms.atMost < taken)
      throw new Problem(
        'concession-full',
        `${taken} ${taken === 1 ? 'place is' : 'places are'} booked at "${label}". Offer at least as many.`,
        { placesTaken: taken },
      );
    if (row) await tx.courseConcession.update({ where: { id: row.id }, data: { ...terms, isOffered: true } });
    else await tx.courseConcession.create({ data: { id: newId(), courseId, ordinal: ++ordinal, label, ...terms } });
  }
  const labels = wanted.map(({ label }) => label);
  await tx.courseConcession.updateMany({ where: { courseId, label: { notIn: labels } }, data: { isOffered: false } });
}

/** What places cost from which day on is appended; before the first change, what they cost until then. */
async function keepPrices(
  tx: Transaction,
  now: Date,
  { staffMemberId: notedById }: Member,
  before: Course,
  { priceMinor, laterPrice }: CourseTerms,
): Promise<void> {
  const courseId = before.id;
  const note = (fromDay: string | null, price: number) =>
    tx.coursePrice.create({
      data: { id: newId(), courseId, fromDay: fromDay && toDate(fromDay), priceMinor: price, notedAt: now, notedById },
    });
  const isLater = JSON.stringify(laterPrice) !== JSON.stringify(before.laterPrice);
  if (priceMinor === before.priceMinor && !isLater) return;
  if ((await tx.coursePrice.count({ where: { courseId } })) === 0) await note(null, before.priceMinor);
  if (priceMinor !== before.priceMinor) await note(localDay(now, (await getStudio(tx)).timeZone), priceMinor);
  if (isLater && laterPrice) await note(laterPrice.from, laterPrice.priceMinor);
}

import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { Decimal, formatMoneyInText } from '../../trade/money/money.js';
import type { PriceInputs } from '../../trade/pricing/course-price.js';
import { lossesPercent } from '../../trade/pricing/learned-rates.js';
import {
  type ComparedLine,
  comparePlannedWithActual,
  type PlanLine,
  planAt,
  planPrivateAt,
} from '../../trade/pricing/variance.js';
import { formatDay } from '../../trade/text/format.js';
import type { Course } from '../courses/contract.js';
import type { Plan } from '../courses/plan-contract.js';
import { getCourseToday, getPlan, hasBegun } from '../courses/service.js';
import { getMaterial } from '../materials/service.js';
import { getCourseInputs } from '../pricing/price-inputs.js';
import type { QuoteInputs } from '../pricing/quote-versions.js';
import { findLastQuote } from '../pricing/quotes.js';
import { privateInputs } from '../pricing/service.js';
import type { Studio } from '../settings/contract.js';
import { getStudio } from '../settings/service.js';
import { comparedFiringLines, comparedMaterialLines, roomLines, timeLines, withActual } from './compared-lines.js';
import type { CourseResults } from './contract.js';
import { type CourseMoney, getCourseMoney } from './course-money.js';
import { type CourseRecord, getCourseRecords } from './course-records.js';

/**
 * What a course that has begun was to come to and what it came to by now, line by line. The plan is that of the last price kept before
 * it began, at the number of students who really came and the price it was sold at.
 *
 * @throws Problem not-found, or course-running before its first session; what the price refuses where none was kept
 */
export async function getCourseResults(tx: Transaction, now: Date, courseId: string): Promise<CourseResults> {
  const course = await getCourseToday(tx, now, courseId);
  if (!hasBegun(course, now))
    throw new Problem(
      'course-running',
      'The course has not begun, so nothing is known of it yet. Its price page says what it should cost.',
    );
  const studio = await getStudio(tx);
  const plan = await getPlan(tx, course.planId);
  const { inputs, plannedFrom } = await inputsBefore(tx, now, course, studio);
  const record = (await getCourseRecords(tx, [courseId])).get(courseId) as CourseRecord;
  const money = await getCourseMoney(tx, courseId, record.students, studio);
  const planned = plannedLines(course, inputs, record.students);
  const lines = await comparedLines(tx, { now, course, plan, inputs, record, money, planned });
  return {
    ...{ courseId, title: course.title, currency: inputs.currency, students: record.students },
    ...{ priceMinor: course.priceMinor, plannedFrom },
    ...comparePlannedWithActual(lines),
    stillOpen: stillOpen(now, course, record, money, studio),
    breakages: breakagesOf(
      record,
      ('remakesPercent' in inputs ? inputs.remakesPercent : undefined) ?? studio.remakesPercent,
    ),
    othersMinutes: record.othersMinutes,
  };
}

/** As its price was reckoned: of a private session by its group, of all else by the place. */
function plannedLines({ priceMinor, perHeadAboveMinor }: Course, inputs: QuoteInputs, students: number): PlanLine[] {
  if (!('groupOf' in inputs)) return planAt(inputs, students, priceMinor);
  return planPrivateAt(inputs, students, { groupMinor: priceMinor, perHeadAboveMinor: perHeadAboveMinor ?? 0 });
}

async function inputsBefore(tx: Transaction, now: Date, course: Course, studio: Studio) {
  const begins = new Date(course.sessions[0]?.startsAt ?? now);
  const saved = await findLastQuote(tx, course.id, begins);
  const savedOn = saved && formatDay(localDay(saved.computedAt, studio.timeZone), studio.locale);
  if (saved?.inputs) {
    const detail = `The price saved on ${savedOn}, before the course began.`;
    return { inputs: saved.inputs, plannedFrom: { quoteId: saved.id, detail } };
  }
  const known = await getCourseInputs(tx, now, course);
  const inputs: QuoteInputs = course.kind === 'private' ? privateInputs(course, known) : known;
  const detail = saved
    ? `Today's figures, since the price saved on ${savedOn} can't be read.`
    : "Today's figures, since no price was saved before the course began.";
  return { inputs, plannedFrom: { quoteId: null, detail } };
}

type Known = {
  now: Date;
  course: Course;
  plan: Plan;
  inputs: QuoteInputs;
  record: CourseRecord;
  money: CourseMoney;
  planned: PlanLine[];
};

/** The plan's lines as something real can be held against them, without those of nothing on either side. */
async function comparedLines(tx: Transaction, known: Known): Promise<ComparedLine[]> {
  const { course, plan, inputs, record, money, planned, now } = known;
  const drawn = planned.filter((line) => line.kind === 'material');
  const fired = planned.filter((line) => line.kind === 'firing').filter(({ firing }) => firing !== null);
  const inUse = drawn.map(({ materialId }) => materialId);
  const materials = new Map(
    await Promise.all(
      [...new Set([...inUse, ...record.drawn.keys()])].map(async (id) => [id, await getMaterial(tx, id)] as const),
    ),
  );
  const begun = course.sessions.filter(({ startsAt }) => new Date(startsAt) <= now);
  const roomRate = inputs.lines.find(({ kind }) => kind === 'room')?.rateMinor ?? '0';

  const ofLine = (line: PlanLine): ComparedLine[] => {
    if (line.kind === 'takings') return [withActual(line, money.takings, '')];
    if (line.kind === 'card-fees') return [withActual(line, money.cardFees, '')];
    if (line.kind === 'own-time') return timeLines(line, plan, record, inputs);
    if (line.kind === 'room') return roomLines(line, plan, begun, record, roomRate);
    if (line.kind === 'second-tutor') return [tutorLine(line, begun, inputs)];
    if (line.kind === 'material' || (line.kind === 'firing' && line.firing !== null)) return [];
    return [withActual(line, null, 'Bills are not entered here: compare this line with your accountant’s books.')];
  };
  const takings = planned.some(({ kind }) => kind === 'takings') ? [] : unheldTakings(money);
  return [
    ...takings,
    ...planned.slice(0, 1).flatMap(ofLine),
    ...comparedMaterialLines(drawn, record, materials),
    ...comparedFiringLines(fired, record),
    ...planned.slice(1).flatMap(ofLine),
  ].filter((line) => line.kind === 'takings' || isSomething(line) || (line.real !== null && isSomething(line.real)));
}

const isSomething = ({ quantity, amountMinor }: { quantity: string; amountMinor: string }): boolean =>
  Number(quantity) !== 0 || Number(amountMinor) !== 0;

/** A course that nobody stood on any more may have kept something of its cancelled bookings. */
function unheldTakings({ takings }: CourseMoney): ComparedLine[] {
  const nothing = { quantity: '0', amountMinor: '0' };
  const called = { kind: 'takings', key: 'takings', label: 'Takings without VAT' } as const;
  const line: PlanLine = { ...called, side: 'takings', unit: 'place', ...nothing };
  return [withActual(line, takings, '')];
}

function tutorLine(
  line: PlanLine,
  begun: Course['sessions'],
  { secondTutor }: Pick<PriceInputs, 'secondTutor'>,
): ComparedLine {
  const two = begun.filter(({ tutors }) => tutors.length > 1).length;
  if (begun.every(({ tutors }) => tutors.length === 0))
    return withActual(line, null, 'No session says who taught it: name its tutors when you give a course its dates.');
  if (two > 0 && !secondTutor)
    return { ...line, quantity: '0', real: null, howToKnow: 'Two taught, and the plan names no fee for the second.' };
  const detail = two > 0 ? `Two taught ${two} of the sessions; the fee is the plan's.` : 'One taught each session.';
  return withActual(
    line,
    { quantity: Math.min(two, 1), amountMinor: two > 0 ? (secondTutor?.feeMinor ?? 0) : 0, detail },
    '',
  );
}

/** What may still change the real side. */
function stillOpen(
  now: Date,
  course: Course,
  record: CourseRecord,
  { owedMinor }: CourseMoney,
  studio: Studio,
): string[] {
  const toCome = course.cancelled ? 0 : course.sessions.filter(({ startsAt }) => new Date(startsAt) > now).length;
  const { waiting } = record.pieces;
  return [
    toCome > 0 ? `${toCome === 1 ? 'One session is' : `${toCome} sessions are`} still to come.` : '',
    toCome === 0 && course.completedOn === null && !course.cancelled ? 'The course is not completed yet.' : '',
    waiting > 0 ? `${waiting === 1 ? 'One piece waits' : `${waiting} pieces wait`} for a firing.` : '',
    owedMinor > 0
      ? `${formatMoneyInText(owedMinor, studio.currency, studio.locale)} of the takings is still owed.`
      : '',
  ].filter((sentence) => sentence !== '');
}

function breakagesOf({ pieces }: CourseRecord, remakes: string): CourseResults['breakages'] {
  const { made, lost, firedAgain } = pieces;
  const known = made > 0;
  return {
    ...{ made, lost, firedAgain, plannedPercent: lossesPercent(remakes) },
    realPercent: known ? new Decimal(lost).times(100).div(made).toDecimalPlaces(6).toFixed() : null,
    howToKnow: known ? null : "No piece of this course is noted. Take its ware in as the course's.",
  };
}

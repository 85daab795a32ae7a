import type { Database } from '../../../database/transaction.js';
import { listDebtors } from '../../../studio/accounts/reports.js';
import { listBookingsOf } from '../../../studio/bookings/service.js';
import { getCourseResults } from '../../../studio/course-results/service.js';
import type { PlanKind } from '../../../studio/courses/plan-terms.js';
import { getCourse } from '../../../studio/courses/service.js';
import { getFiring, getFiringCost, getUnusedRoom } from '../../../studio/firings/service.js';
import { getProposal } from '../../../studio/orders/proposal.js';
import { getPrice } from '../../../studio/pricing/service.js';
import { getStudio } from '../../../studio/settings/service.js';
import { getOutlook } from '../../../studio/stock-outlook/service.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import { formatMoney, formatMoneyInText } from '../../../trade/money/money.js';
import { bookingsSection, outlookSection } from './course.js';
import { courseResultsSection } from './course-results.js';
import { debtorsSection, firingSection } from './firing.js';
import { ordersSection } from './orders.js';
import { priceSection } from './price.js';
import { openStudioSection, privateSection } from './private-and-open-studio.js';

/** The whole job on one page: price, bookings, shelf, firing, debts, and a course that is over. Papers are told of by who wrote them. */
export async function report(db: Database, now: Date): Promise<string[]> {
  const studio = await getStudio(db);
  const money = {
    inTable: (minor: number) => formatMoney(minor, studio.currency, studio.locale),
    inText: (minor: number) => formatMoneyInText(minor, studio.currency, studio.locale),
  };
  const sections: string[] = [];
  const coming = await next(db, now, 'course');
  if (coming) {
    const price = await getPrice(db, now, coming);
    if (price.kind !== 'private') sections.push(priceSection(price, money));
    sections.push(bookingsSection(await getCourse(db, coming), await listBookingsOf(db, coming), studio, money));
  }
  for (const kind of ['private', 'openStudio'] as const) {
    const id = await next(db, now, kind);
    const price = id && (await getPrice(db, now, id));
    if (price) sections.push(price.kind === 'private' ? privateSection(price, money) : openStudioSection(price, money));
  }
  sections.push(
    outlookSection(await getOutlook(db, now), studio),
    ordersSection(await getProposal(db, now), money, studio),
  );
  const fired = await db.firing.findFirst({
    where: { state: 'settled', schedule: { kind: 'glaze' } },
    orderBy: { number: 'desc' },
  });
  if (fired) {
    const [shown, cost] = [await getFiring(db, now, fired.id), await getFiringCost(db, fired.id)];
    sections.push(firingSection(shown, cost, await getUnusedRoom(db), money));
  }
  sections.push(debtorsSection(await listDebtors(db, localDay(now, studio.timeZone)), money));
  const past = await db.session.findFirst({
    where: { course: { completedOn: { not: null } } },
    orderBy: [{ endsAt: 'desc' }, { id: 'desc' }],
  });
  if (past) sections.push(courseResultsSection(await getCourseResults(db, now, past.courseId), money));
  return sections;
}

/** The next to begin of a kind. */
async function next(db: Database, now: Date, kind: PlanKind): Promise<string | undefined> {
  const first = await db.session.findFirst({
    where: { ordinal: 1, startsAt: { gt: now }, course: { completedOn: null, cancelledAt: null, plan: { kind } } },
    orderBy: [{ startsAt: 'asc' }, { id: 'asc' }],
  });
  return first?.courseId;
}

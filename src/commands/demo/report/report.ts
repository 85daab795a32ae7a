import type { Database } from '../../../database/transaction.js';
import { debtors } from '../../../studio/accounts/reports.js';
import { bookingsOf } from '../../../studio/bookings/service.js';
import { afterwards } from '../../../studio/course-results/service.js';
import type { PlanKind } from '../../../studio/courses/plan-terms.js';
import { course } from '../../../studio/courses/service.js';
import { firing, firingCost, unusedRoom } from '../../../studio/firings/service.js';
import { proposal } from '../../../studio/orders/proposal.js';
import { priceOf } from '../../../studio/pricing/service.js';
import { studio } from '../../../studio/settings/service.js';
import { outlook } from '../../../studio/stock-outlook/service.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import { formatMoney, formatMoneyInText } from '../../../trade/money/money.js';
import { bookingsSection, outlookSection } from './course.js';
import { afterwardsSection } from './course-results.js';
import { debtorsSection, firingSection } from './firing.js';
import { ordersSection } from './orders.js';
import { priceSection } from './price.js';
import { openStudioSection, privateSection } from './private-and-open-studio.js';

/** The whole job on one page: price, bookings, shelf, firing, debts, and a course that is over. Papers are told of by who wrote them. */
export async function report(db: Database, now: Date): Promise<string[]> {
  const home = await studio(db);
  const money = {
    inTable: (minor: number) => formatMoney(minor, home.currency, home.locale),
    inText: (minor: number) => formatMoneyInText(minor, home.currency, home.locale),
  };
  const sections: string[] = [];
  const coming = await next(db, now, 'course');
  if (coming) {
    const price = await priceOf(db, now, coming);
    if (price.kind !== 'private') sections.push(priceSection(price, money));
    sections.push(bookingsSection(await course(db, coming), await bookingsOf(db, coming), home, money));
  }
  for (const kind of ['private', 'openStudio'] as const) {
    const id = await next(db, now, kind);
    const price = id && (await priceOf(db, now, id));
    if (price) sections.push(price.kind === 'private' ? privateSection(price, money) : openStudioSection(price, money));
  }
  sections.push(outlookSection(await outlook(db, now), home), ordersSection(await proposal(db, now), money, home));
  const fired = await db.firing.findFirst({
    where: { state: 'settled', schedule: { kind: 'glaze' } },
    orderBy: { number: 'desc' },
  });
  if (fired) {
    const [shown, cost] = [await firing(db, now, fired.id), await firingCost(db, fired.id)];
    sections.push(firingSection(shown, cost, await unusedRoom(db), money));
  }
  sections.push(debtorsSection(await debtors(db, localDay(now, home.timeZone)), money));
  const past = await db.session.findFirst({
    where: { course: { completedOn: { not: null } } },
    orderBy: [{ endsAt: 'desc' }, { id: 'desc' }],
  });
  if (past) sections.push(afterwardsSection(await afterwards(db, now, past.courseId), money));
  return sections;
}

/** The next to begin of a kind. */
async function next(db: Database, now: Date, kind: PlanKind): Promise<string | undefined> {
  const first = await db.session.findFirst({
    where: { ordinal: 1, startsAt: { gt: now }, course: { completedOn: null, plan: { kind } } },
    orderBy: [{ startsAt: 'asc' }, { id: 'asc' }],
  });
  return first?.courseId;
}

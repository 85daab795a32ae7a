import type { Transaction } from '../../database/transaction.js';
import { addDays, localDay } from '../../trade/calendar.js';
import { betaBinomial } from '../../trade/enrolment.js';
import { Decimal } from '../../trade/money.js';
import { expectedOutlook } from '../../trade/stock.js';
import { takenPlaces } from '../bookings/service.js';
import type { Course } from '../courses/contract.js';
import { course, plan } from '../courses/service.js';
import { askingForCount, holdings } from '../materials/queries.js';
import type { Studio } from '../settings/contract.js';
import { studio } from '../settings/service.js';
import type { OutlookItem } from './contract.js';
import { type Usage, usagePerStudent } from './materials.js';
import { drawnByCourse } from './queries.js';

type Need = OutlookItem['needs'][number];

/** Each material that a coming course draws, against the shelf: enough, short if more book as expected, or short already. */
export async function outlook(tx: Transaction, now: Date): Promise<OutlookItem[]> {
  const home = await studio(tx);
  const coming = await tx.course.findMany({
    where: { completedOn: null, sessions: { some: { endsAt: { gt: now } } } },
    orderBy: { id: 'asc' },
    select: { id: true },
  });
  const drawn = await drawnByCourse(
    tx,
    coming.map(({ id }) => id),
  );
  const byMaterial = new Map<string, { usage: Usage; needs: Need[] }>();
  for (const { id } of coming) {
    const next = await course(tx, id);
    const students = { booked: await takenPlaces(tx, now, id), expected: new Decimal(0) };
    students.expected = expectedStudents(next.places, students.booked, home);
    for (const usage of await usagePerStudent(tx, await plan(tx, next.planId), home)) {
      const item = byMaterial.get(usage.material.id) ?? { usage, needs: [] };
      item.needs.push(need(next, usage, students, drawn.get(`${id} ${usage.material.id}`) ?? 0, now, home));
      byMaterial.set(usage.material.id, item);
    }
  }
  const ids = [...byMaterial.keys()];
  const [held, asking] = [await holdings(tx, ids), await askingForCount(tx, ids)];
  return [...byMaterial.entries()]
    .map(([id, { usage, needs }]) => itemOf(usage, needs, held.get(id)?.onHand ?? 0, asking.has(id)))
    .sort((a, b) => (a.orderBy ?? '9999').localeCompare(b.orderBy ?? '9999') || a.name.localeCompare(b.name));
}

/** How many will have booked in the end, given those who have: the mean of what is still possible. */
function expectedStudents(places: number, booked: number, home: Studio): Decimal {
  const possible = betaBinomial(places, home.enrolmentAlpha, home.enrolmentBeta).slice(booked);
  const total = possible.reduce((sum, p) => sum.plus(p), new Decimal(0));
  if (total.isZero()) return new Decimal(booked);
  const mean = possible.reduce((sum, p, i) => sum.plus(p.times(booked + i)), new Decimal(0));
  return mean.div(total);
}

function need(
  next: Course,
  { quantity, use }: Usage,
  students: { booked: number; expected: Decimal },
  drawn: number,
  now: Date,
  home: Studio,
): Need {
  const still = (count: Decimal | number) => Math.max(0, new Decimal(quantity).times(count).ceil().toNumber() - drawn);
  const session = (use === 'glaze' && next.sessions.find((s) => s.purpose === 'glazing')) || next.sessions[0];
  const planned = localDay(new Date(session?.startsAt ?? now), home.timeZone);
  const today = localDay(now, home.timeZone);
  return {
    courseId: next.id,
    title: next.title,
    day: planned.localeCompare(today) < 0 ? today : planned, // what is overdue is needed today
    booked: still(students.booked),
    expected: still(students.expected),
  };
}

function itemOf({ material }: Usage, needs: Need[], onHand: number, asksForCount: boolean): OutlookItem {
  const { rows, runsShortOn, shortBy } = expectedOutlook({ onHand, demands: needs });
  const { id: materialId, name, unit, packQuantity, leadTimeDays } = material;
  return {
    ...{ materialId, name, unit, onHand, asksForCount, needs, rows, runsShortOn, shortBy },
    packs: Math.ceil(shortBy.expected / packQuantity),
    orderBy: runsShortOn.expected === null ? null : addDays(runsShortOn.expected, -leadTimeDays),
  };
}

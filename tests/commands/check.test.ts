import { randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { openDatabase } from '../../src/database/client.js';
import type { Database } from '../../src/database/transaction.js';
import { cloneDemo } from '../support/demo.js';
import { run } from '../support/program.js';

const url = await cloneDemo();

/** Writes what the tables' triggers forbid, as a broken disk or a careless hand would. */
async function behindTheTriggers(work: (db: Database) => Promise<unknown>): Promise<void> {
  const { db, close } = await openDatabase(url, { max: 1 });
  await db.$executeRaw`SET session_replication_role = replica`;
  await work(db);
  await close();
}

async function check() {
  const program = run(['check'], { DATABASE_URL: url });
  return { code: await program.ended, said: program.out(), err: program.err() };
}

describe('check', () => {
  test('says that all is well, where it is', async () => {
    expect(await check()).toEqual({ code: 0, said: 'All is well: no rule is broken.\n', err: '' });
  });

  test('names what was broken, and fails', async () => {
    const entry = { id: '' };
    await behindTheTriggers(async (db) => {
      const posting = await db.posting.findFirstOrThrow({ where: { amountMinor: { gt: 0 } } });
      entry.id = posting.entryId;
      await db.posting.update({ where: { id: posting.id }, data: { amountMinor: posting.amountMinor + 1 } });
      const last = await db.receipt.findFirstOrThrow({ orderBy: { number: 'desc' } });
      await db.receipt.delete({ where: { documentId: last.documentId } });
    });
    const { code, said } = await check();
    expect(code).toBe(1);
    expect(said).toMatch(/^\d+ faults\. Stop the server, keep a copy of the data, and look at these:/);
    expect(said).toContain(`every journal entry balances: entry ${entry.id} is off by 1`);
    expect(said).toMatch(/numbered without gaps: series \w+ ends with (\d+) and the last paper has (?!\1)\d+/);
    expect(said).toMatch(/every payment that came in has its receipt: payment/);
  });

  test('names a lot that holds more than came, carriage that is off, and what arrived of an order nobody placed', async () => {
    const ids = { lot: '', bill: '', consignment: '', course: '' };
    await behindTheTriggers(async (db) => {
      const lots = await db.lot.findMany({ include: { stockMoves: true } });
      const lot = lots.find(({ stockMoves }) => stockMoves.length === 1);
      ids.lot = lot?.id ?? '';
      const [received] = lot?.stockMoves ?? [];
      await db.stockMove.update({ where: { id: received?.id ?? '' }, data: { quantity: { increment: 1 } } });
      const share = await db.carriageShare.findFirstOrThrow();
      ids.bill = share.billId;
      const { billId, lotId } = share;
      await db.carriageShare.update({
        where: { billId_lotId: { billId, lotId } },
        data: { amountMinor: { decrement: 1 } },
      });
      const arrived = await db.consignment.findFirstOrThrow({ where: { orderId: { not: null } } });
      ids.consignment = arrived.id;
      await db.supplyOrderEvent.deleteMany({ where: { orderId: arrived.orderId ?? '', kind: 'placed' } });
      const hours = await db.courseHours.findFirstOrThrow({ where: { what: 'teaching' } });
      ids.course = hours.courseId;
      await db.courseHours.update({ where: { id: hours.id }, data: { minutes: -1, note: 'none' } });
    });
    const { said } = await check();
    expect(said).toContain(`what is left of a lot is between nothing and what came: lot ${ids.lot} holds`);
    expect(said).toContain(
      `a carriage bill is shared among the lots that came with it: carriage bill ${ids.bill} is off by 1`,
    );
    expect(said).toContain(`what arrived of an order had been placed: consignment ${ids.consignment}`);
    expect(said).toContain(
      `nobody worked less than nothing for a course: course ${ids.course}: -1 minutes of teaching`,
    );
  });

  test('names a concession given too often or on another course, and a private session with two groups', async () => {
    const ids = { full: '', strange: '', group: '' };
    await behindTheTriggers(async (db) => {
      const places = await db.place.findMany({
        where: { booking: { cancelledAt: null } },
        include: { booking: true },
        orderBy: { id: 'asc' },
      });
      const [first] = places;
      const together = places.filter(({ booking }) => booking.courseId === first?.booking.courseId).slice(0, 2);
      const other = places.find(({ booking }) => booking.courseId !== first?.booking.courseId);
      const courseId = first?.booking.courseId ?? '';
      const price = { courseId, priceMinor: 9000, atMost: 1 };
      const add = (label: string, ordinal: number) =>
        db.courseConcession.create({ data: { ...price, id: randomUUID(), label, ordinal } });
      const [student, neighbour] = [await add('Student', 1), await add('Neighbour', 2)];
      for (const { id } of together) await db.place.update({ where: { id }, data: { concessionId: student.id } });
      await db.place.update({ where: { id: other?.id ?? '' }, data: { concessionId: neighbour.id } });
      const group = await db.course.findFirstOrThrow({ where: { id: { not: courseId }, bookings: { some: {} } } });
      await db.coursePlan.update({ where: { id: group.planId }, data: { kind: 'private', groupOf: 1 } });
      Object.assign(ids, { full: student.id, strange: other?.id, group: group.id });
    });
    const { said } = await check();
    expect(said).toContain(`concession ${ids.full} is for 1 places and 2 have it`);
    expect(said).toContain(`place ${ids.strange} has a concession of course`);
    expect(said).toMatch(new RegExp(`course ${ids.group}: private, minimum \\d+, `));
    expect(said).toMatch(/private session \S+ has \d+ bookings/);
  });
});

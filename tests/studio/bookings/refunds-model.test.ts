import fc from 'fast-check';
import { beforeAll, expect, test } from 'vitest';
import { inTransaction, type Transaction } from '../../../src/database/transaction.js';
import { Problem } from '../../../src/problems.js';
import { noteBeginning } from '../../../src/studio/bookings/given-up-places.js';
import {
  bookPlaces,
  cancelBooking,
  getBooking,
  payForBookings,
  payFurtherRefund,
} from '../../../src/studio/bookings/service.js';
import { daysBetween, localDay } from '../../../src/trade/calendar/calendar.js';
import { testApp } from '../../support/app.js';
import { manyPeople } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

const { db, owner } = await testApp();
const PLACES = 3;
const HOUR = 3_600_000;
const BEGINS = Date.parse('2026-04-14T18:00:00Z');
let home: Awaited<ReturnType<typeof coursesFixture>>;
let people: string[];
beforeAll(async () => {
  home = await coursesFixture(owner);
  people = await manyPeople(db, 9);
});

/** A place of the course as a chair: whoever comes sits down where nobody sat yet, else where somebody got up, the longest empty first. */
type Chair = { filled: boolean };
type Known = {
  id: string;
  who: number[];
  heldUntil: number;
  paid: boolean;
  over: boolean;
  left: Chair[];
  further: number;
};

const who = fc.uniqueArray(fc.nat(8), { minLength: 1, maxLength: 2 });
const step = fc.oneof(
  { weight: 6, arbitrary: fc.record({ do: fc.constant('book' as const), who, pays: fc.boolean() }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('pay' as const), which: fc.nat(6) }) },
  { weight: 5, arbitrary: fc.record({ do: fc.constant('cancel' as const), which: fc.nat(6) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('refund' as const), which: fc.nat(6) }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('wait' as const), hours: fc.constantFrom(24, 48, 200) }) },
);

/** What work gives, or the type of its refusal. */
async function outcome<T>(work: (tx: Transaction) => Promise<T>): Promise<T | string> {
  try {
    return await inTransaction(db, work);
  } catch (error) {
    if (error instanceof Problem) return error.type;
    throw error;
  }
}

/** The fixture's policy: all back from 28 days before the start, half from 14, and 5.00 kept where the place is filled again. */
const furtherOf = (paidMinor: number, days: number) => {
  const byTier = days >= 28 ? paidMinor : days >= 14 ? Math.round(paidMinor / 2) : 0;
  return Math.max(0, paidMinor - byTier - 500);
};
const dueOf = ({ further, left }: Known) =>
  left.length === 0 ? 0 : Math.floor((further * left.filter(({ filled }) => filled).length) / left.length + 0.5);

test('whatever people book, pay, cancel and wait for, what goes back in all is what a course of chairs says', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 6, maxLength: 20 }), async (steps) => {
      const { id: courseId } = await home.addCourse({ places: PLACES, minimum: 1, holdHours: 48 });
      let time = Date.parse('2026-03-16T09:00:00Z');
      let fresh = PLACES;
      const empty: Chair[] = [];
      const all: Known[] = [];
      const sitDown = (places: number) => {
        for (let i = 0; i < places; i++)
          if (fresh > 0) fresh--;
          else Object.assign(empty.shift() as Chair, { filled: true });
      };
      const pay = async (known: Known) => {
        const { chargeId, payerId, depositMinor: amountMinor } = await getBooking(db, known.id);
        const wanted = { personId: payerId, method: 'cash' as const, for: [{ chargeId, amountMinor }] };
        const paid = await outcome((tx) => payForBookings(tx, new Date(time), wanted));
        if (typeof paid === 'string' || known.paid) return;
        known.paid = true;
        sitDown(known.who.length);
      };

      for (const next of steps) {
        const now = new Date(time);
        if (next.do === 'wait' && time + next.hours * HOUR < BEGINS) time += next.hours * HOUR;
        if (next.do === 'book') {
          const attendeeIds = next.who.map((i) => people[i] ?? '');
          const made = await outcome((tx) =>
            bookPlaces(tx, now, courseId, { payerId: attendeeIds[0] ?? '', attendeeIds }),
          );
          if (typeof made === 'string') continue;
          for (const b of all) b.over ||= !b.paid && b.heldUntil <= time; // released before a place is looked for
          const heldUntil = Math.min(time + 48 * HOUR, BEGINS);
          const known = { id: made.id, who: next.who, heldUntil, paid: false, over: false, left: [], further: 0 };
          all.push(known);
          if (next.pays) await pay(known);
        }
        const known = 'which' in next ? all[next.which] : undefined;
        if (!known) continue;
        if (next.do === 'pay') await pay(known);
        if (next.do === 'refund') await outcome((tx) => payFurtherRefund(tx, now, known.id, { method: 'cash' }));
        if (next.do === 'cancel' && !known.over) {
          const { paidMinor } = await getBooking(db, known.id);
          await inTransaction(db, (tx) => cancelBooking(tx, now, known.id, { reason: 'Ill', method: 'cash' }));
          known.over = true;
          if (!known.paid) continue;
          known.further = furtherOf(paidMinor, daysBetween(localDay(now, 'Europe/London'), '2026-04-14'));
          known.left = known.who.map(() => ({ filled: false }));
          empty.push(...known.left);
        }
      }
      await inTransaction(db, (tx) => noteBeginning(tx, new Date(BEGINS), courseId));
      for (const b of all) if (!b.over && !b.paid && b.heldUntil >= BEGINS) sitDown(b.who.length);

      for (const b of all) {
        await outcome((tx) => payFurtherRefund(tx, new Date(BEGINS), b.id, { method: 'cash' }));
        const refunds = await db.refillRefund.findMany({
          where: { refill: { bookingId: b.id } },
          include: { refill: true },
        });
        expect(refunds.reduce((sum, { refill }) => sum + refill.amountMinor, 0)).toBe(dueOf(b));
        expect((await getBooking(db, b.id)).refundDueMinor).toBe(0);
      }
    }),
    { numRuns: 25 },
  );
});

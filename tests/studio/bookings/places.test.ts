import fc from 'fast-check';
import { beforeAll, expect, test } from 'vitest';
import { inTransaction, type Transaction } from '../../../src/database/transaction.js';
import { Problem } from '../../../src/problems.js';
import { takePayment } from '../../../src/studio/accounts/payments/payments.js';
import { releaseExpired } from '../../../src/studio/bookings/holds.js';
import { getRegister } from '../../../src/studio/bookings/read-bookings.js';
import { bookPlaces, cancelBooking, getBooking } from '../../../src/studio/bookings/service.js';
import { testApp } from '../../support/app.js';
import { manyPeople } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

const { db, owner } = await testApp();
const PLACES = 5;
const HOLD_HOURS = 48;
let home: Awaited<ReturnType<typeof coursesFixture>>;
let people: string[];
beforeAll(async () => {
  home = await coursesFixture(owner);
  people = await manyPeople(db, 12);
});

/** What the model remembers of a booking. */
type Known = { id: string; who: number[]; heldUntil: number; paid: boolean; over: boolean };

const who = fc.uniqueArray(fc.nat(11), { minLength: 1, maxLength: 4 });
const step = fc.oneof(
  { weight: 5, arbitrary: fc.record({ do: fc.constant('book' as const), who }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('pay' as const), which: fc.nat(9) }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('cancel' as const), which: fc.nat(9) }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('wait' as const), hours: fc.constantFrom(1, 24, 48) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('release' as const) }) },
);

/** How a use case ends: its result, or the type of its refusal. Anything else fails the test. */
async function outcome<T>(work: (tx: Transaction) => Promise<T>): Promise<T | string> {
  try {
    return await inTransaction(db, work);
  } catch (error) {
    if (error instanceof Problem) return error.type;
    throw error;
  }
}

test('after any sequence of booking, paying, cancelling, waiting and releasing, what is taken is what a simple model says', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 14 }), async (steps) => {
      const { id: courseId } = await home.addCourse({ places: PLACES, minimum: 1, holdHours: HOLD_HOURS });
      let time = Date.parse('2026-03-10T09:00:00Z');
      const all: Known[] = [];
      const lapsed = (b: Known) => !b.paid && b.heldUntil <= time;
      const taken = () => all.filter((b) => !b.over && !lapsed(b)).reduce((sum, b) => sum + b.who.length, 0);

      for (const next of steps) {
        const now = new Date(time);
        if (next.do === 'wait') time += next.hours * 3_600_000;
        if (next.do === 'release') {
          const due = all.filter((b) => !b.over && lapsed(b));
          expect(await outcome((tx) => releaseExpired(tx, now, courseId))).toBe(due.length);
          for (const b of due) b.over = true;
        }
        if (next.do === 'book') {
          const attendeeIds = next.who.map((i) => people[i] ?? '');
          const twice = all.some((b) => !b.over && !lapsed(b) && b.who.some((i) => next.who.includes(i)));
          const full = taken() + next.who.length > PLACES;
          const made = await outcome((tx) =>
            bookPlaces(tx, now, courseId, { payerId: attendeeIds[0] ?? '', attendeeIds }),
          );
          if (twice || full) expect(made).toBe(twice ? 'already-there' : 'course-full');
          else {
            for (const b of all) b.over ||= lapsed(b);
            const { id } = made as { id: string };
            all.push({ id, who: next.who, heldUntil: time + HOLD_HOURS * 3_600_000, paid: false, over: false });
          }
        }
        const known = 'which' in next ? all[next.which] : undefined;
        if (known && next.do === 'pay') {
          const { chargeId, payerId, depositMinor } = await getBooking(db, known.id);
          const paying = { personId: payerId, method: 'cash' as const, for: [{ chargeId, amountMinor: depositMinor }] };
          const paid = await outcome((tx) => takePayment(tx, now, paying));
          if (known.over) expect(paid).toBe('nothing-owed');
          else if (typeof paid !== 'string') known.paid = true;
        }
        if (known && next.do === 'cancel') {
          const cancelled = await outcome((tx) => cancelBooking(tx, now, known.id, { reason: 'Ill', method: 'cash' }));
          if (known.over) expect(cancelled).toBe('already-cancelled');
          known.over = true;
        }
        expect((await getRegister(db, new Date(time), courseId)).people).toHaveLength(taken());
        expect(await db.place.count({ where: { booking: { courseId, cancelledAt: null } } })).toBeLessThanOrEqual(
          PLACES,
        );
      }
    }),
    { numRuns: 25 },
  );
});

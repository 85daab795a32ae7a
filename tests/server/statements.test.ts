import { expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { cloneDemo } from '../support/demo.js';
import { statementsOf } from '../support/statements.js';

// How often what is asked most often asks the database, in the invented studio on its first morning. Each takes the program longer than
// the database: more of them are slower on every machine and at every size.
const { db, owner } = await testApp({ clone: cloneDemo });
const course = await db.course.findFirstOrThrow({
  where: {
    completedOn: null,
    bookings: { some: {} },
    plan: { kind: 'course' },
    sessions: { some: { ordinal: 1, startsAt: { gt: new Date('2026-03-20') } } },
  },
  orderBy: { id: 'asc' },
});
const newcomer = await db.person.findFirstOrThrow({ where: { places: { none: {} } }, orderBy: { id: 'asc' } });

async function askedBy(work: () => Promise<{ statusCode: number }>) {
  const codes: number[] = [];
  const asked = await statementsOf(async () => codes.push((await work()).statusCode));
  expect(codes[0]).toBeLessThan(300);
  return asked;
}

test.each([
  ['today', '/api/today', 25],
  ['a price', `/api/courses/${course.id}/price`, 15],
  ['the prices of all plans', '/api/plan-prices', 17],
  ['the outlook', '/api/outlook', 13],
  ['who owes', '/api/debtors', 5],
])('%s asks it so many times at most', async (_, address, most) => {
  await owner.get(address);
  const asked = await askedBy(() => owner.get(address));
  expect(asked.length).toBeLessThanOrEqual(most);
  expect(asked.length).toBeGreaterThan(1);
});

test('booking a place asks it so many times at most, and taking a payment for it', async () => {
  const body = { payerId: newcomer.id, attendeeIds: [newcomer.id] };
  const booked: { payerId: string; chargeId: string; depositMinor: number }[] = [];
  const asked = await askedBy(async () => {
    const answer = await owner.post(`/api/courses/${course.id}/bookings`, body);
    booked.push(answer.json());
    return answer;
  });
  expect(asked.length).toBeLessThanOrEqual(15);
  const [{ payerId: personId, chargeId, depositMinor } = { payerId: '', chargeId: '', depositMinor: 0 }] = booked;
  const payment = { personId, method: 'cash', for: [{ chargeId, amountMinor: depositMinor / 2 }] };
  expect((await askedBy(() => owner.post('/api/payments', payment))).length).toBeLessThanOrEqual(19);
});

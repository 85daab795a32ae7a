import { afterEach, beforeAll, expect, test } from 'vitest';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { Course } from '../../../src/studio/courses/contract.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import type { PriceInputs } from '../../../src/trade/pricing/course-price.js';
import { readTakings } from '../../../src/trade/pricing/takings.js';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made, personFixture } from '../../support/fixtures.js';

const { owner, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
  for (const { id } of [home.clay, home.glaze])
    await made(owner, `/api/materials/${id}/lots`, {
      ...{ supplier: 'Ostlemere Clays', receivedOn: '2026-03-02', quantity: 100_000, costMinor: 9000 },
    });
  await made(owner, '/api/tariffs', {
    ...{ name: 'Day', validFrom: '2026-01-01', bands: [{ fromMinute: 0, toMinute: 1440, perKwhMinor: '30' }] },
  });
});

afterEach(() => clock.set('2026-03-10T09:00:00Z'));

const soldAt = [
  { label: 'Student', sharePercent: '25', pricePercent: '72.5' },
  { label: 'Early', sharePercent: '12.5', lessMinor: 1000, payments: 1 },
  { label: 'Slowly', sharePercent: '12.5', payments: 5 },
];

const addPlan = () =>
  made<Plan>(owner, '/api/course-plans', {
    ...{ ...planBody(home), soldAt },
    parts: [
      { label: 'teaching', taxRateId: home.exempt.id, sharePercent: '62.5' },
      { label: 'a book', taxRateId: home.exempt.id, amountMinor: 499 },
    ],
  });

/** What a place at one price leaves without VAT, and its payments, as the price reckons them. */
function promised(inputs: PriceInputs, at: NonNullable<PriceInputs['sold']>[number], fullMinor: number) {
  const alone = { ...inputs, cardPercent: '0', cardFixedMinor: 100, sold: [{ ...at, sharePercent: '100' }] };
  const { keptPart, keptPlusMinor, cardFixedMinor } = readTakings(alone);
  return {
    netMinor: keptPart.times(fullMinor).plus(keptPlusMinor).toNumber(),
    payments: cardFixedMinor.toNumber() / 100,
  };
}

test.each([
  { priceMinor: 12_050, depositMinor: 3000, balancePayments: 3 },
  { priceMinor: 8011, depositMinor: 0, balancePayments: 4 },
  { priceMinor: 9999, depositMinor: 2500, balancePayments: 1 },
])('a booking is charged what the price reckons with, at each price: %j', async (terms) => {
  const plan = await addPlan();
  const course = (await home.addCourse({ planId: plan.id, ...terms })) as Course;
  const { inputs } = (await owner.get(`/api/courses/${course.id}/price`)).json() as { inputs: PriceInputs };
  await clock.set('2025-11-03T09:00:00Z'); // before any payment is due
  for (const at of inputs.sold ?? []) {
    const { id } = await personFixture(owner);
    const concession = course.concessions.find(({ label }) => label === at.label);
    const booking: Booking = await made(owner, `/api/courses/${course.id}/bookings`, {
      ...{ payerId: id, attendeeIds: [id] },
      concessions: concession ? [{ attendeeId: id, concessionId: concession.id }] : [],
    });
    const { netMinor, payments } = promised(inputs, at, terms.priceMinor);
    expect([at.label, booking.instalments.length]).toEqual([at.label, payments]);
    const vatMinor = booking.vat.reduce((sum, part) => sum + part.vatMinor, 0);
    // the price is exact where the booking is whole pennies: half of one for the price, for a part, and for its VAT
    expect(Math.abs(booking.priceMinor - vatMinor - netMinor)).toBeLessThanOrEqual(1.5);
  }
});

test('and what the course brought in, once it is over, is without the VAT of each part', async () => {
  const course = (await home.addCourse({ planId: (await addPlan()).id })) as Course;
  await made(owner, `/api/courses/${course.id}/price-quotes`, {});
  const booking = await bookingFixture(owner, course.id);
  await clock.set('2026-05-06T09:00:00Z');
  expect((await owner.post(`/api/courses/${course.id}/completion`, {})).statusCode).toBe(201);
  const { lines } = (await owner.get(`/api/courses/${course.id}/afterwards`)).json();
  const takings = lines.find(({ key }: { key: string }) => key === 'takings');
  const vatMinor = booking.vat.reduce((sum, part) => sum + part.vatMinor, 0);
  expect([vatMinor, takings.real.amountMinor]).toEqual([667, 12_000 - 667]); // of the 40.01 that are taxed
});

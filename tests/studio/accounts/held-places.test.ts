import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Debtor } from '../../../src/studio/accounts/contract.js';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

const { owner, clock } = await testApp();
let booked: Booking;
let paid: Booking;
beforeAll(async () => {
  const home = await coursesFixture(owner);
  const course = await home.addCourse({ holdHours: 72 });
  booked = await bookingFixture(owner, course.id, 2);
  paid = await bookingFixture(owner, course.id, 1);
  await payFor(owner, paid, paid.depositMinor);
});

const debtorOf = async ({ payerId }: Booking, on = ''): Promise<Debtor | undefined> =>
  (await owner.get(`/api/debtors${on}`)).json().items.find((debtor: Debtor) => debtor.personId === payerId);

describe('a place that is held unpaid', () => {
  test('is asked for and not owed', async () => {
    const { priceMinor, depositMinor, heldUntil } = booked;
    const debtor = await debtorOf(booked);
    expect(debtor).toMatchObject({ owedMinor: 0, dueMinor: 0, heldMinor: priceMinor });
    expect(debtor?.charges).toMatchObject([
      { owedMinor: 0, dueMinor: 0, heldMinor: priceMinor, hold: { until: heldUntil, depositMinor } },
    ]);
    const confirmed = await debtorOf(paid);
    expect(confirmed).toMatchObject({ owedMinor: paid.priceMinor - paid.depositMinor, heldMinor: 0 });
    expect(confirmed?.charges).toMatchObject([{ heldMinor: 0, hold: null }]);
  });

  test('is not counted by today, nor in the owed column of the list for a spreadsheet', async () => {
    const { debts } = (await owner.get('/api/today')).json();
    expect(debts).toMatchObject({
      ...{ people: 1, owedMinor: paid.priceMinor - paid.depositMinor },
      ...{ heldPeople: 1, heldMinor: booked.priceMinor },
    });
    expect(debts.top.map(({ personId }: { personId: string }) => personId)).toEqual([paid.payerId]);
    const lines: Record<string, string>[] = parse((await owner.get('/api/debtors.csv')).body, {
      bom: true,
      columns: true,
    });
    const column = (name: string) => lines.map((line) => line[name]);
    expect(column('owed')).toEqual(['90.00', '0.00']);
    expect(column('held, not owed')).toEqual(['0.00', '240.00']);
  });

  test('is not reminded of', async () => {
    const answer = await owner.post(`/api/people/${booked.payerId}/reminders`);
    expect(answer.json()).toMatchObject({ type: '/problems/nothing-owed' });
  });

  test('is owed on the day on which its course begins, when it no longer lapses', async () => {
    expect(await debtorOf(booked, '?on=2026-04-13')).toMatchObject({ owedMinor: 0 });
    expect(await debtorOf(booked, '?on=2026-04-14')).toMatchObject({ owedMinor: booked.priceMinor, heldMinor: 0 });
  });

  test('is owed once something is paid', async () => {
    await clock.set('2026-03-11T09:00:00Z');
    await payFor(owner, booked, 1000);
    expect(await debtorOf(booked)).toMatchObject({ owedMinor: booked.priceMinor - 1000, heldMinor: 0 });
  });
});

import { beforeEach, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made, personFixture } from '../../support/fixtures.js';

const { db, owner, tutor, clock } = await testApp();
const home = await coursesFixture(owner);
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

const address = (id: string) => `/api/courses/${id}/terms`;
const change = async (id: string, changes: object) => {
  const { body } = await owner.get(address(id));
  return owner.put(address(id), { ...JSON.parse(body), ...changes });
};
const historyOf = async (id: string): Promise<string[]> =>
  (await owner.get(`/api/courses/${id}/changes`)).json().items.map(({ what }: { what: string }) => what);
const faultsIn = (answer: { json(): { errors?: { pointer: string }[] } }) =>
  answer.json().errors?.map(({ pointer }) => pointer);

/** Somebody new asks for one place. */
const book = async (courseId: string, rest: object = {}) => {
  const { id } = await personFixture(owner);
  return owner.post(`/api/courses/${courseId}/bookings`, { payerId: id, attendeeIds: [id], ...rest });
};

describe('the price from a day on', () => {
  test('is what is asked of those who book on that day or later; who booked before keeps theirs', async () => {
    const course = await home.addCourse();
    const early = await bookingFixture(owner, course.id);
    const laterPrice = { from: '2026-03-20', priceMinor: 14_000 };
    const changed = await change(course.id, { laterPrice });
    expect([changed.statusCode, changed.json()]).toMatchObject([200, { priceMinor: 12_000, laterPrice }]);
    expect((await book(course.id)).json().priceMinor).toBe(12_000);

    await clock.set('2026-03-19T23:59:00Z');
    expect((await book(course.id)).json().priceMinor).toBe(12_000);
    await clock.set('2026-03-20T00:01:00Z');
    const { id } = await personFixture(owner);
    const preview = await owner.post(`/api/courses/${course.id}/bookings/preview`, { payerId: id, attendeeIds: [id] });
    expect(preview.json().outcome.priceMinor).toBe(14_000);
    expect(preview.json().letters[0].text).toContain('£140');
    expect((await book(course.id)).json().priceMinor).toBe(14_000);
    expect((await owner.get(`/api/courses/${course.id}`)).json()).toMatchObject({
      priceMinor: 14_000,
      laterPrice: null,
    });
    expect((await owner.get(`/api/bookings/${early.id}`)).json().priceMinor).toBe(12_000);
    expect(await historyOf(course.id)).toEqual([
      'From 20 March 2026 the price is £140. What is booked before keeps its price.',
    ]);
  });

  test('begins with the day of the studio, not of Greenwich', async () => {
    const course = await home.addCourse();
    await change(course.id, { laterPrice: { from: '2026-04-10', priceMinor: 14_000 } });
    await clock.set('2026-04-09T22:30:00Z'); // 23:30 in London
    expect((await book(course.id)).json().priceMinor).toBe(12_000);
    await clock.set('2026-04-09T23:30:00Z'); // half past midnight
    expect((await book(course.id)).json().priceMinor).toBe(14_000);
  });

  test('and earlier ones are kept, appended', async () => {
    const course = await home.addCourse();
    await change(course.id, { laterPrice: { from: '2026-03-20', priceMinor: 14_000 } });
    await clock.set('2026-03-21T09:00:00Z');
    await change(course.id, { priceMinor: 13_000 });
    const rows = await db.coursePrice.findMany({ where: { courseId: course.id }, orderBy: { id: 'asc' } });
    expect(rows.map(({ fromDay, priceMinor }) => [fromDay?.toISOString().slice(0, 10) ?? null, priceMinor])).toEqual([
      [null, 12_000],
      ['2026-03-20', 14_000],
      ['2026-03-21', 13_000],
    ]);
    await expect(db.coursePrice.deleteMany({ where: { courseId: course.id } })).rejects.toThrow(/WB015/);
    expect((await historyOf(course.id)).at(-1)).toBe('Price: £130, before £140. What is booked keeps its price.');
  });

  test('is refused where it makes no sense, field by field', async () => {
    const course = await home.addCourse();
    const later = (from: string, priceMinor = 14_000) => change(course.id, { laterPrice: { from, priceMinor } });
    expect(faultsIn(await later('2026-03-10'))).toEqual(['#/laterPrice/from']);
    expect(faultsIn(await later('2026-04-15'))).toEqual(['#/laterPrice/from']);
    expect(faultsIn(await later('2026-03-20', 2000))).toEqual(['#/depositMinor']);
    expect(faultsIn(await change(course.id, { perHeadAboveMinor: 100 }))).toEqual(['#/perHeadAboveMinor']);
    const concessions = [{ label: 'Student', priceMinor: 12_001, atMost: null, payments: null }];
    expect(faultsIn(await change(course.id, { concessions }))).toEqual(['#/concessions/0/priceMinor']);
    expect(await historyOf(course.id)).toEqual([]);
    expect((await tutor.put(address(course.id), {}, undefined, {})).statusCode).toBe(403);
  });
});

describe('deposit, balance and concessions', () => {
  test('are those of bookings to come; what is booked keeps its own', async () => {
    const course = await home.addCourse();
    const early = await bookingFixture(owner, course.id);
    const concessions = [{ label: 'Student', priceMinor: 9000, atMost: 2, payments: null }];
    await change(course.id, {
      depositMinor: 5000,
      balanceDueDays: 7,
      balancePayments: 2,
      balanceEveryDays: 7,
      concessions,
    });
    const { concessions: offered } = (await owner.get(`/api/courses/${course.id}`)).json();
    const { id } = await personFixture(owner);
    const student = await made<{ id: string }>(owner, `/api/courses/${course.id}/bookings`, {
      ...{ payerId: id, attendeeIds: [id], concessions: [{ attendeeId: id, concessionId: offered[0].id }] },
    });
    const booked = (of: string) => owner.get(`/api/bookings/${of}`).then((answer) => answer.json());
    expect(await booked(student.id)).toMatchObject({ priceMinor: 9000, depositMinor: 5000 });
    expect(await booked(early.id)).toMatchObject({ priceMinor: 12_000, depositMinor: 3000 });
    expect((await booked(early.id)).instalments).toEqual(early.instalments);
    expect((await booked(student.id)).instalments).toHaveLength(3);

    const none = await change(course.id, { concessions: [{ ...concessions[0], atMost: 0 }] });
    expect(none.statusCode).toBe(422);
    await change(course.id, { concessions: [] });
    expect((await owner.get(`/api/courses/${course.id}`)).json().concessions).toEqual([]);
    expect((await booked(student.id)).attendees[0].concession).toBe('Student');
    const again = await book(course.id, { concessions: [] });
    expect(again.statusCode).toBe(201);
    const back = await change(course.id, { concessions: [{ ...concessions[0], priceMinor: 9500 }] });
    expect(back.json().concessions).toEqual([{ ...concessions[0], priceMinor: 9500 }]);
    expect(await booked(student.id)).toMatchObject({ priceMinor: 9000 });
    expect(await historyOf(course.id)).toContain('Concessions: Student £95 (2 at most).');
  });

  test('never offer fewer places at a concession than are booked at it', async () => {
    const course = await home.addCourse({ concessions: [{ label: 'Student', priceMinor: 9000 }] });
    const [student] = (await owner.get(`/api/courses/${course.id}`)).json().concessions;
    const ids = [(await personFixture(owner)).id, (await personFixture(owner)).id];
    await owner.post(`/api/courses/${course.id}/bookings`, {
      ...{ payerId: ids[0], attendeeIds: ids },
      concessions: ids.map((attendeeId) => ({ attendeeId, concessionId: student.id })),
    });
    const fewer = await change(course.id, {
      concessions: [{ label: 'Student', priceMinor: 9000, atMost: 1, payments: null }],
    });
    expect([fewer.statusCode, fewer.json().detail]).toEqual([
      409,
      '2 places are booked at "Student". Offer at least as many.',
    ]);
  });
});

describe('the days of booking', () => {
  test('are kept to, unless the owner books all the same; in the database too', async () => {
    const course = await home.addCourse();
    const open = { bookableFrom: '2026-03-15', bookableUntil: '2026-03-31' };
    expect((await change(course.id, open)).statusCode).toBe(200);
    const early = await book(course.id);
    expect([early.statusCode, early.json().type, early.json().detail]).toEqual([
      409,
      '/problems/not-bookable',
      'Booking opens on 15 March 2026. Choose another course, or say that you book all the same.',
    ]);
    const { id: bookingId } = (await book(course.id, { outsideWindow: true })).json();
    const unsaid = db.$transaction(async (tx) => {
      // the same booking once more, past what keeps one booking to one charge
      await tx.$executeRaw`ALTER TABLE booking DROP CONSTRAINT booking_charge_id_key`;
      await tx.$executeRaw`
        INSERT INTO booking (id, course_id, payer_id, charge_id, deposit_minor, held_until, booked_at)
        SELECT gen_random_uuid(), course_id, payer_id, charge_id, deposit_minor, held_until, booked_at
          FROM booking WHERE id = ${bookingId}::uuid`;
    });
    await expect(unsaid).rejects.toThrow(/WB025/);
    await clock.set('2026-03-15T00:00:00Z');
    expect((await book(course.id)).statusCode).toBe(201);
    await clock.set('2026-04-01T00:30:00+01:00');
    expect((await book(course.id)).json().detail).toContain('Booking closed on 31 March 2026.');
    expect(await historyOf(course.id)).toEqual([
      'Booking opens on 15 March 2026.',
      'Booking closes after 31 March 2026.',
    ]);
    const wrong = await change(course.id, { bookableFrom: '2026-04-20', bookableUntil: '2026-04-10' });
    expect(faultsIn(wrong)).toEqual(['#/bookableFrom', '#/bookableUntil']);
  });

  test('are said on the web page, where nobody asks for a place outside them', async () => {
    await owner.put('/api/web-page', { isOn: true, namesTutors: false, takesRequests: true });
    const course = await home.addCourse({ title: 'Winter bowls' });
    await change(course.id, { bookableFrom: '2026-03-15', laterPrice: { from: '2026-03-16', priceMinor: 15_000 } });
    const page = async () => (await owner.get('/api/public/courses.html')).body.split('Winter bowls')[1] ?? '';
    expect(await page()).toContain('Booking opens on 15 March 2026.');
    expect(await page()).toContain('£120 for a place');
    const offers = JSON.stringify((await owner.get('/api/public/courses.json')).json());
    expect(offers).toContain('"availabilityStarts":"2026-03-15"');
    await clock.set('2026-03-16T09:00:00Z');
    expect(await page()).not.toContain('Booking opens');
    expect(await page()).toContain('£150 for a place');
  });
});

describe('the age that a course is for', () => {
  test('is asked at booking, of a course that has one', async () => {
    const course = await home.addCourse();
    expect((await book(course.id)).statusCode).toBe(201);
    await change(course.id, { ageFrom: 16, ageTo: null });
    const unsaid = await book(course.id);
    expect([unsaid.statusCode, unsaid.json().type, unsaid.json().detail]).toEqual([
      409,
      '/problems/age-limit',
      '“Two mugs” is for people aged 16 or over. Say that everyone who comes is, or choose another course.',
    ]);
    const said = await book(course.id, { agesConfirmed: true });
    expect(said.statusCode).toBe(201);
    const place = { bookingId: said.json().id, personId: (await personFixture(owner)).id };
    await expect(
      db.place.create({ data: { id: crypto.randomUUID(), ...place, priceMinor: 1, depositMinor: 0 } }),
    ).rejects.toThrow(/WB025|WB004/);
    expect(faultsIn(await change(course.id, { ageFrom: 16, ageTo: 12 }))).toEqual(['#/ageTo']);
    await change(course.id, { ageFrom: 6, ageTo: 12 });
    expect(await historyOf(course.id)).toEqual(['For people aged 16 or over.', 'For people aged 6 to 12.']);
  });
});

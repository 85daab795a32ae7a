import { randomUUID } from 'node:crypto';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { BookingData } from '../../../src/mail/templates/booking.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { personFixture, STUDIO } from '../../support/fixtures.js';

const { db, owner, tutor, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
afterEach(() => clock.set('2026-03-10T09:00:00Z'));

const book = (courseId: string, people: { id: string }[], key?: string) =>
  owner.post(
    `/api/courses/${courseId}/bookings`,
    { payerId: people[0]?.id, attendeeIds: people.map(({ id }) => id) },
    key,
  );
const taken = (courseId: string) => db.place.count({ where: { booking: { courseId, cancelledAt: null } } });
const bookingOf = async (id: string) => (await owner.get(`/api/bookings/${id}`)).json();

describe('booking a course', () => {
  test('holds places for their deposit and asks for the price in two parts', async () => {
    const course = await home.addCourse();
    const [ines, tomas] = [await personFixture(owner, 'Ines Duval'), await personFixture(owner, 'Tomas Reiter')];
    const answer = await book(course.id, [ines, tomas]);
    expect(answer.statusCode).toBe(201);
    const booking = answer.json();
    expect(booking).toEqual({
      id: expect.any(String),
      chargeId: expect.any(String),
      courseId: course.id,
      payerId: ines.id,
      payerName: 'Ines Duval',
      attendees: [
        { personId: ines.id, name: 'Ines Duval', concession: null, lacksGuardian: false },
        { personId: tomas.id, name: 'Tomas Reiter', concession: null, lacksGuardian: false },
      ],
      state: 'provisional',
      unnamed: 0,
      heldUntil: '2026-03-12T09:00:00.000Z',
      bookedAt: '2026-03-10T09:00:00.000Z',
      cancelledAt: null,
      cancelledBecause: null,
      movedToId: null,
      cancelledPlaces: [],
      includedMinor: 0,
      priceMinor: 24_000,
      vat: [{ label: null, taxName: 'Standard', grossMinor: 24_000, vatPercent: '20', vatMinor: 4000 }],
      depositMinor: 6000,
      instalments: [
        { dueOn: '2026-03-12', amountMinor: 6000 },
        { dueOn: '2026-03-31', amountMinor: 18_000 },
      ],
      paidMinor: 0,
      owedMinor: 24_000,
      refundDueMinor: 0,
    });
    const charge = await db.charge.findUniqueOrThrow({
      where: { id: booking.chargeId },
      include: { instalments: { orderBy: { dueOn: 'asc' } } },
    });
    expect(charge).toMatchObject({
      description: 'Two mugs, 14 April 2026 to 5 May 2026, 2 places',
      kind: 'course',
      inAdvance: true,
      personId: ines.id,
    });
    expect(charge.instalments.map((i) => [i.dueOn.toISOString().slice(0, 10), i.amountMinor])).toEqual([
      ['2026-03-12', 6000],
      ['2026-03-31', 18_000],
    ]);
    expect(await bookingOf(booking.id)).toEqual(booking);
    expect((await owner.get(`/api/courses/${course.id}/bookings`)).json()).toEqual({ items: [booking], next: null });
  });

  test('is confirmed by the last penny of the deposit', async () => {
    const booking = await bookingFixture(owner, (await home.addCourse()).id, 2);
    await payFor(owner, booking, 5999);
    expect(await bookingOf(booking.id)).toMatchObject({ state: 'provisional', paidMinor: 5999 });
    await payFor(owner, booking, 1);
    expect(await bookingOf(booking.id)).toMatchObject({ state: 'confirmed', heldUntil: null, owedMinor: 18_000 });
  });

  test('is confirmed at once where no deposit is asked', async () => {
    const course = await home.addCourse({ depositMinor: 0 });
    expect(await bookingFixture(owner, course.id)).toMatchObject({ state: 'confirmed', heldUntil: null, paidMinor: 0 });
  });

  test('tells the payer in words, frozen and in the studio’s time, and queues the letter', async () => {
    const { id, sessions } = await home.addCourse();
    const booking = await bookingFixture(owner, id, 2);
    const notices = await db.notice.findMany({ where: { personId: booking.payerId } });
    expect(notices.map(({ occasion }) => occasion)).toEqual(['booking']);
    const room = sessions[0]?.roomName;
    expect(BookingData.strict().parse(notices[0]?.data)).toEqual({
      included: null,
      course: 'Two mugs',
      sessions: [`Tuesday 14 April 2026, 19:00 to 21:30, ${room}`, `Tuesday 5 May 2026, 19:00 to 21:00, ${room}`],
      attendees: booking.attendees.map(({ name }) => name),
      price: '£240',
      deposit: '£60',
      heldUntil: 'Thursday 12 March 2026, 09:00',
      dueNow: null,
      dueNowBy: null,
      balance: [{ amount: '£180', by: '31 March 2026' }],
      directions: STUDIO.directions,
      hazards: [],
      howToPay: STUDIO.howToPayCourses,
      note: null,
      refundTerms: {
        tiers: [
          'at least 28 days before the start: all that you have paid',
          'at least 14 days before the start: 50% of what you have paid',
          'later than that: nothing',
        ],
        filledAgain: 'If your place is filled again, or the course is full when it starts, we refund all of it but £5.',
      },
    });
    const jobs = await db.$queryRaw<{ key: string }[]>`
      SELECT key FROM graphile_worker.jobs WHERE key = ${`deliver-${notices[0]?.id}`}`;
    expect(jobs).toHaveLength(1);
  });

  test('with the same key books once, and with another body not at all', async () => {
    const course = await home.addCourse();
    const [one, other] = [await personFixture(owner), await personFixture(owner)];
    const key = randomUUID();
    const answers = await Promise.all(Array.from({ length: 10 }, () => book(course.id, [one], key)));
    expect(new Set(answers.map(({ body }) => body)).size).toBe(1);
    expect((await book(course.id, [other], key)).json()).toMatchObject({ type: '/problems/key-reused' });
    expect(await taken(course.id)).toBe(1);
    expect(await db.notice.count({ where: { personId: one.id } })).toBe(1);
    expect(await db.charge.count({ where: { personId: one.id } })).toBe(1);
  });

  test('lists page by page, the cancelled ones included', async () => {
    const course = await home.addCourse();
    const [first, second] = [await bookingFixture(owner, course.id), await bookingFixture(owner, course.id)];
    await owner.post(`/api/bookings/${first.id}/cancellation`, { reason: 'Moved away' });
    const list = async (query: string) => (await owner.get(`/api/courses/${course.id}/bookings?${query}`)).json();
    const page = await list('limit=1');
    expect(page.items).toMatchObject([{ id: first.id, state: 'cancelled', cancelledBecause: 'Moved away' }]);
    expect((await list(`limit=1&after=${page.next}`)).items).toMatchObject([{ id: second.id }]);
  });
});

describe('refused, with nothing written:', () => {
  /** Everything that a booking writes. */
  const written = async () => [
    await db.booking.count(),
    await db.place.count(),
    await db.charge.count(),
    await db.journalEntry.count(),
    await db.notice.count(),
  ];

  test('what does not exist', async () => {
    const [course, one, nobody] = [await home.addCourse(), await personFixture(owner), { id: randomUUID() }];
    const before = await written();
    for (const answer of [
      await book(randomUUID(), [one]),
      await book(course.id, [nobody]),
      await book(course.id, [one, nobody]),
      await owner.get(`/api/bookings/${randomUUID()}`),
      await owner.get(`/api/courses/${randomUUID()}/bookings`),
      await owner.get(`/api/courses/${randomUUID()}/register`),
    ])
      expect([answer.statusCode, answer.json().type]).toEqual([404, '/problems/not-found']);
    expect(await written()).toEqual(before);
  });

  test('more places than are left, saying how many', async () => {
    const course = await home.addCourse({ places: 4 });
    await bookingFixture(owner, course.id, 3);
    const two = [await personFixture(owner), await personFixture(owner)];
    const before = await written();
    const answer = await book(course.id, two);
    expect(answer.statusCode).toBe(409);
    expect(answer.json()).toMatchObject({
      type: '/problems/course-full',
      placesLeft: 1,
      detail: 'Only 1 of 4 places is left. Book fewer, or choose another course.',
    });
    expect(await written()).toEqual(before);
    expect((await book(course.id, two.slice(0, 1))).statusCode).toBe(201);
  });

  test('a person who has a place already', async () => {
    const course = await home.addCourse();
    const [one, other] = [await personFixture(owner, 'Ada Moor'), await personFixture(owner)];
    const { id } = (await book(course.id, [one])).json();
    const answer = await book(course.id, [other, one]);
    expect(answer.json()).toMatchObject({ type: '/problems/already-there', bookingId: id });
    expect(answer.json().detail).toContain('Ada Moor has a place');
    await owner.post(`/api/bookings/${id}/cancellation`, { reason: 'By mistake' });
    expect((await book(course.id, [other, one])).statusCode).toBe(201);
  });

  test('a course from the minute it begins', async () => {
    const course = await home.addCourse();
    const one = await personFixture(owner);
    const begins = Date.parse(course.sessions[0]?.startsAt ?? '');
    await clock.set(new Date(begins).toISOString());
    expect((await book(course.id, [one])).json()).toMatchObject({ type: '/problems/course-over', status: 409 });
    await clock.set(new Date(begins - 1).toISOString());
    expect((await book(course.id, [one])).statusCode).toBe(201);
  });

  test.each([
    ['nobody', []],
    ['somebody twice', ['same', 'same']],
    ['a bus load', Array.from({ length: 21 }, () => 'new')],
  ])('%s', async (_, who) => {
    const course = await home.addCourse();
    const same = randomUUID();
    const attendeeIds = who.map((each) => (each === 'same' ? same : randomUUID()));
    const answer = await owner.post(`/api/courses/${course.id}/bookings`, { payerId: same, attendeeIds });
    expect([answer.statusCode, answer.json().errors[0].pointer]).toEqual([422, '#/attendeeIds']);
  });

  test('a tutor, who sees no money', async () => {
    const course = await home.addCourse();
    const { id } = await bookingFixture(owner, course.id);
    const answers = [
      await tutor.post(`/api/courses/${course.id}/bookings`, {}),
      await tutor.get(`/api/courses/${course.id}/bookings`),
      await tutor.get(`/api/bookings/${id}`),
      await tutor.post(`/api/bookings/${id}/cancellation`, { reason: 'No' }),
      await tutor.post(`/api/courses/${course.id}/completion`),
    ];
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([403, 403, 403, 403, 403]);
  });
});

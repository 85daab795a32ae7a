import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

const { db, owner, tutor, tutorMember } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});

describe('courses', () => {
  test('a course gives its plan dates; purposes come from the plan, benches from the places', async () => {
    const course = await home.addCourse();
    expect(course).toMatchObject({
      title: 'Two mugs',
      priceMinor: 12_000,
      depositMinor: 3000,
      completedOn: null,
      sessions: [
        { ordinal: 1, purpose: 'making', startsAt: '2026-04-14T18:00:00.000Z', benches: 8, tutors: [] },
        { ordinal: 2, purpose: 'glazing', endsAt: '2026-05-05T20:00:00.000Z', benches: 8 },
      ],
    });
    expect((await owner.get(`/api/courses/${course.id}`)).json()).toEqual(course);
  });

  test('a tutor sees dates, places and who teaches, and no money', async () => {
    const sessions = home.body.sessions.map((s) => ({
      ...s,
      startsAt: s.startsAt.replace('2026', '2031'),
      endsAt: s.endsAt.replace('2026', '2031'),
      tutorIds: [tutorMember.id],
    }));
    const { id } = await home.addCourse({ sessions });
    expect((await tutor.get(`/api/courses/${id}`)).statusCode).toBe(403);
    const { items } = (await tutor.get('/api/courses?limit=200')).json();
    const seen = items.find((item: { id: string }) => item.id === id);
    expect(seen.sessions[0]).toMatchObject({
      roomName: 'Long room',
      tutors: [{ id: tutorMember.id, name: 'Test tutor' }],
    });
    expect(Object.keys(seen).sort()).toEqual([
      'ageFrom',
      'ageTo',
      'bookableFrom',
      'bookableUntil',
      'cancelled',
      'cancelledSessions',
      'completedOn',
      'decideOn',
      'id',
      'kind',
      'minimum',
      'nextStartsAt',
      'note',
      'places',
      'placesMadeUp',
      'placesTaken',
      'planId',
      'planName',
      'sessions',
      'state',
      'title',
    ]);
    expect((await tutor.post('/api/courses', home.body)).statusCode).toBe(403);
  });

  test('lists run page by page', async () => {
    await home.addCourse();
    await home.addCourse();
    const first = (await owner.get('/api/courses?limit=1')).json();
    const second = (await owner.get(`/api/courses?limit=1&after=${first.next}`)).json();
    expect(second.items).toHaveLength(1);
    expect(second.items[0].id > first.items[0].id).toBe(true);
  });

  test('the same key twice makes one course', async () => {
    const key = randomUUID();
    const later = home.body.sessions.map((s) => ({
      ...s,
      startsAt: s.startsAt.replace('2026', '2032'),
      endsAt: s.endsAt.replace('2026', '2032'),
    }));
    const wanted = { ...home.body, title: 'Sent twice', sessions: later };
    const answers = await Promise.all([1, 2, 3].map(() => owner.post('/api/courses', wanted, key)));
    expect(new Set(answers.map(({ body }) => body)).size).toBe(1);
    expect(await db.course.count({ where: { title: 'Sent twice' } })).toBe(1);
  });

  const [first, second] = ['2026-04-14T19:00:00+01:00', '2026-04-14T21:30:00+01:00'];
  test.each([
    ['a deposit above the price', { depositMinor: 12_001 }, '#/depositMinor'],
    ['a price of nothing', { priceMinor: 0 }, '#/priceMinor'],
    ['a price beyond all measure', { priceMinor: 10_000_001 }, '#/priceMinor'],
    ['more needed than there are places', { minimum: 9 }, '#/minimum'],
    [
      'a session that ends before it starts',
      { sessions: [{ startsAt: second, endsAt: first }] },
      '#/sessions/0/endsAt',
    ],
    [
      'a session of a day',
      { sessions: [{ startsAt: first, endsAt: '2026-04-15T19:00:00+01:00' }] },
      '#/sessions/0/endsAt',
    ],
    [
      'a session in the year 1',
      { sessions: [{ startsAt: '0001-04-14T19:00:00Z', endsAt: first }] },
      '#/sessions/0/startsAt',
    ],
    [
      'a day that does not exist',
      { sessions: [{ startsAt: '2026-02-30T19:00:00Z', endsAt: first }] },
      '#/sessions/0/startsAt',
    ],
    [
      'more benches than places',
      { sessions: [{ startsAt: first, endsAt: second, benches: 9 }] },
      '#/sessions/0/benches',
    ],
    [
      'a second session before the first is over',
      {
        sessions: [
          { startsAt: first, endsAt: second },
          { startsAt: first, endsAt: second },
        ],
      },
      '#/sessions/1/startsAt',
    ],
    [
      'a tutor named twice',
      { sessions: [{ startsAt: first, endsAt: second, tutorIds: [tutorMember.id, tutorMember.id] }] },
      '#/sessions/0/tutorIds',
    ],
  ])('refuses %s', async (_, changes, pointer) => {
    const sessions = ('sessions' in changes ? changes.sessions : home.body.sessions).map((s: object) => ({
      roomId: home.room.id,
      ...s,
    }));
    const answer = await owner.post('/api/courses', { ...home.body, ...changes, sessions });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().errors.map((e: { pointer: string }) => e.pointer)).toContain(pointer);
  });

  test('as many sessions as the plan has', async () => {
    const answer = await owner.post('/api/courses', { ...home.body, sessions: home.body.sessions.slice(0, 1) });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().detail).toContain('has 2 sessions');
  });

  test('what it names must exist; otherwise nothing is written', async () => {
    const before = await db.course.count();
    const nowhere = randomUUID();
    const [one, two] = home.body.sessions;
    for (const changes of [
      { planId: nowhere },
      { taxRateId: nowhere },
      { refundPolicyId: nowhere },
      { sessions: [one, { ...two, roomId: nowhere }] },
      { sessions: [one, { ...two, tutorIds: [nowhere] }] },
    ]) {
      const answer = await owner.post('/api/courses', { ...home.body, ...changes });
      expect([answer.statusCode, answer.json().type]).toEqual([404, '/problems/not-found']);
    }
    expect(await db.course.count()).toBe(before);
    expect((await owner.get(`/api/courses/${nowhere}`)).statusCode).toBe(404);
  });
});

describe('what is weighed out for a course', () => {
  test('comes off the shelf under its name, by a tutor too and without money', async () => {
    const { id } = await home.addCourse();
    await owner.post(`/api/materials/${home.clay.id}/lots`, {
      supplier: 'Tamworth clay pit',
      receivedOn: '2026-03-03',
      quantity: 10_000,
      costMinor: 1200,
    });
    const key = randomUUID();
    const draw = () => tutor.post(`/api/courses/${id}/draws`, { materialId: home.clay.id, quantity: 4200 }, key);
    const answers = [await draw(), await draw()];
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([201, 201]);
    const drawn = answers[0]?.json();
    expect(drawn).toEqual({
      materialId: home.clay.id,
      quantity: 4200,
      foundQuantity: 0,
      moveIds: [expect.any(String)],
    });
    const moves = await db.courseDraw.findMany({ where: { courseId: id }, include: { stockMove: true } });
    expect(
      moves.map(({ stockMove: { kind, quantity, costMinor, note } }) => ({ kind, quantity, costMinor, note })),
    ).toEqual([{ kind: 'drawn', quantity: -4200, costMinor: -504, note: 'Two mugs' }]);
  });

  test('is noted at a session of the course, where it is known, and listed', async () => {
    const { id, sessions } = await home.addCourse();
    const other = await home.addCourse();
    const [sessionId] = sessions.map((session) => session.id);
    const body = { materialId: home.clay.id, quantity: 700 };
    const drawn = (await tutor.post(`/api/courses/${id}/draws`, { ...body, sessionId })).json();
    await tutor.post(`/api/courses/${id}/draws`, { ...body, quantity: 50, note: 'handles' });
    const answer = await tutor.get(`/api/courses/${id}/draws`);
    expect(answer.json().items).toEqual([
      {
        ...{ id: drawn.moveIds[0], materialId: home.clay.id, materialName: home.clay.name, unit: 'g', quantity: 700 },
        ...{ at: '2026-03-10T09:00:00.000Z', note: 'Two mugs', sessionId },
      },
      expect.objectContaining({ quantity: 50, note: 'handles', sessionId: null }),
    ]);
    const refused = await tutor.post(`/api/courses/${other.id}/draws`, { ...body, sessionId });
    expect([refused.statusCode, refused.json().detail]).toEqual([404, expect.stringContaining('no such session')]);
    expect((await tutor.get(`/api/courses/${randomUUID()}/draws`)).statusCode).toBe(404);
    // nor does the database take a session of another course
    const [move] = drawn.moveIds;
    const wrong = db.courseDraw.update({ where: { stockMoveId: move }, data: { courseId: other.id } });
    await expect(wrong).rejects.toThrow();
  });

  test('beyond the books it is taken as found', async () => {
    const { id } = await home.addCourse();
    const answer = await tutor.post(`/api/courses/${id}/draws`, {
      materialId: home.glaze.id,
      quantity: 300,
      note: 'dipping',
    });
    expect(answer.json()).toMatchObject({ quantity: 300, foundQuantity: 300 });
  });

  test('of a material and a course that exist, in whole units', async () => {
    const { id } = await home.addCourse();
    const send = async (courseId: string, body: object) =>
      (await tutor.post(`/api/courses/${courseId}/draws`, body)).statusCode;
    expect(await send(randomUUID(), { materialId: home.clay.id, quantity: 1 })).toBe(404);
    expect(await send(id, { materialId: randomUUID(), quantity: 1 })).toBe(404);
    expect(await send(id, { materialId: home.clay.id, quantity: 0.5 })).toBe(422);
    expect(await db.courseDraw.count({ where: { courseId: id } })).toBe(0);
  });
});

import { beforeAll, describe, expect, test } from 'vitest';
import { inTransaction } from '../../../src/database/transaction.js';
import { addCourse } from '../../../src/studio/courses/service.js';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { db, owner, tutorMember, ownerMember } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
let year = 2026;
beforeAll(async () => {
  home = await coursesFixture(owner);
});

/** Two evenings of a year of their own, with the given times on the first; the second is out of everybody's way. */
const evening = (from: string, to: string, rest: object) => {
  const other = `${year}-06-${10 + count++}`;
  return [
    { startsAt: `${year}-04-14T${from}:00Z`, endsAt: `${year}-04-14T${to}:00Z`, roomId: home.room.id, ...rest },
    { startsAt: `${other}T01:00:00Z`, endsAt: `${other}T02:00:00Z`, roomId: home.room.id, benches: 1 },
  ];
};
let count = 0;
const send = (title: string, sessions: object[]) => owner.post('/api/courses', { ...home.body, title, sessions });
const next = () => {
  year++;
  count = 0;
};

describe('tutors', () => {
  test('teach one session at a time, and the refusal names the other', async () => {
    next();
    const first = await send('Lidded jars', evening('18:00', '20:30', { benches: 1, tutorIds: [tutorMember.id] }));
    expect(first.statusCode).toBe(201);
    const clash = await send(
      'Bowls',
      evening('20:29', '21:30', { benches: 1, tutorIds: [ownerMember.id, tutorMember.id] }),
    );
    expect(clash.statusCode).toBe(409);
    expect(clash.json()).toMatchObject({ type: '/problems/tutor-busy', sessionId: first.json().sessions[0].id });
    expect(clash.json().detail.replace('Wednesday,', 'Wednesday')).toBe(
      `Test tutor teaches "Lidded jars", session 1, on Wednesday 14 April ${year}, 19:00 to 21:30. Choose another tutor or another time.`,
    ); // Node's versions differ on the comma
    expect(await db.course.count({ where: { title: 'Bowls' } })).toBe(0);
  });

  test('may go from one session straight to the next: half-open ranges only touch', async () => {
    next();
    for (const [from, to] of [
      ['18:00', '20:00'],
      ['20:00', '22:00'],
      ['16:00', '18:00'],
    ] as const)
      expect((await send('Touching', evening(from, to, { benches: 1, tutorIds: [tutorMember.id] }))).statusCode).toBe(
        201,
      );
  });
});

describe('rooms', () => {
  test('have benches enough for all sessions at once, and the refusal names the other', async () => {
    next();
    expect((await send('Six', evening('18:00', '20:00', { benches: 6 }))).statusCode).toBe(201);
    expect((await send('Four', evening('19:00', '21:00', { benches: 4 }))).statusCode).toBe(201);
    const clash = await send('One', evening('19:30', '21:00', { benches: 1 }));
    expect(clash.json()).toMatchObject({ type: '/problems/room-full', status: 409, benchesLeft: 0 });
    expect(clash.json().detail).toMatch(
      /^Long room has 10 benches, of which 10 are taken by "Six", session 1, on .* and 1 more; the session needs 1/,
    );
    expect((await send('After', evening('20:00', '21:00', { benches: 6 }))).statusCode).toBe(201);
  });

  test('are judged at the fullest moment, not by the sum of all that overlaps', async () => {
    next();
    expect((await send('Early', evening('18:00', '19:00', { benches: 6 }))).statusCode).toBe(201);
    expect((await send('Late', evening('19:00', '20:00', { benches: 6 }))).statusCode).toBe(201);
    expect((await send('Through', evening('18:00', '20:00', { benches: 4 }))).statusCode).toBe(201);
    expect((await send('Too many', evening('18:00', '20:00', { benches: 1 }))).statusCode).toBe(409);
  });

  test('can be too small for a session of their own', async () => {
    next();
    const { id } = await made(owner, '/api/rooms', { name: 'Wheel room', benches: 4 });
    const answer = await send('Large', evening('18:00', '20:00', { roomId: id, benches: 5 }));
    expect(answer.json().detail).toContain('Wheel room has 4 benches and the session needs 5');
  });
});

describe('many courses made at once', () => {
  test('take the last benches once', async () => {
    next();
    const wanted = (i: number) => ({
      ...home.body,
      title: `At once ${i}`,
      sessions: evening('18:00', '20:00', { benches: 3 }).map((s) => ({ ...s, tutorIds: [] as string[] })),
    });
    const answers = await Promise.all(Array.from({ length: 12 }, (_, i) => owner.post('/api/courses', wanted(i))));
    expect(answers.filter(({ statusCode }) => statusCode === 201)).toHaveLength(3);
    const refused = answers.filter(({ statusCode }) => statusCode !== 201).map((answer) => answer.json());
    // with the session named, it is our own refusal under the lock and not the database's
    for (const problem of refused) expect(problem).toMatchObject({ type: '/problems/room-full', benchesLeft: 1 });
  });

  test('take a tutor once', async () => {
    next();
    const answers = await Promise.all(
      Array.from({ length: 8 }, (_, i) =>
        send(`Taught at once ${i}`, evening('18:00', '20:00', { benches: 1, tutorIds: [ownerMember.id] })),
      ),
    );
    expect(answers.filter(({ statusCode }) => statusCode === 201)).toHaveLength(1);
    const refused = answers.filter(({ statusCode }) => statusCode !== 201).map((answer) => answer.json());
    for (const problem of refused)
      expect(problem).toMatchObject({ type: '/problems/tutor-busy', sessionId: expect.any(String) });
  });

  test('the database refuses too, where the room is filled by another road', async () => {
    next();
    await send('Full', evening('18:00', '20:00', { benches: 8 }));
    const course = await inTransaction(db, (tx) =>
      addCourse(tx, {
        ...home.body,
        title: 'By hand',
        sessions: evening('21:00', '22:00', { benches: 1 }).map((s) => ({ tutorIds: [], ...s })),
      }),
    );
    const startsAt = new Date(`${year}-04-14T19:00:00Z`);
    const moved = db.session.update({
      where: { id: course.sessions[0]?.id ?? '' },
      data: { startsAt, benches: 3, roomId: home.room.id },
    });
    await expect(moved).rejects.toThrow(/needed/);
  });
});

import { randomUUID } from 'node:crypto';
import { beforeAll, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { folder } from '../support/embedded.js';
import { manyPeople } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { run } from '../support/program.js';

// ROUNDS=50 npx vitest run --project integration tests/commands/two-servers.test.ts
const ROUNDS = Number(process.env.ROUNDS ?? 2);
const REQUESTS = 200;
const DAY_MILLISECONDS = 86_400_000;

const { db, url, owner, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
let guests: string[];
let token: string;
let servers: string[];

beforeAll(async () => {
  home = await coursesFixture(owner);
  guests = await manyPeople(db, REQUESTS);
  await clock.set(new Date().toISOString()); // the servers have no other
  const lastDay = new Date(Date.now() + 2 * DAY_MILLISECONDS).toISOString().slice(0, 10);
  const rights = ['money:write'];
  token = (await owner.post('/api/tokens', { name: 'Race', rights, lastDay })).json().token;
  const env = { DATABASE_URL: url, WAREBOARD_DATA: await folder(), PORT: '0', TRUST_PROXY: 'true' };
  const started = [run(['serve', '--only=api'], env), run(['serve', '--only=api'], env)];
  servers = await Promise.all(
    started.map(async (program) => (await program.prints(/^Wareboard is at (http:\S+)$/m))[1] ?? ''),
  );
});

let callers = 0;
/** Each asks from an address of its own, or so many would be refused for their number. */
function ask(server: string, courseId: string, personId: string): Promise<Response> {
  const n = ++callers;
  return fetch(`${server}/api/courses/${courseId}/bookings`, {
    method: 'POST',
    headers: {
      ...{ authorization: `Bearer ${token}`, 'content-type': 'application/json' },
      ...{ 'idempotency-key': `"${randomUUID()}"`, 'x-forwarded-for': `10.1.${n >> 8}.${n & 255}` },
    },
    body: JSON.stringify({ payerId: personId, attendeeIds: [personId] }),
  });
}

test('the last place is sold once, however many ask two servers for it at once, and each other is told what is left', async () => {
  for (let round = 0; round < ROUNDS; round++) {
    const { id } = await home.addCourse({ title: `Round ${round}`, places: 1, minimum: 1, sessions: later(round) });
    const answers = await Promise.all(guests.map((guest, i) => ask(servers[i % 2] ?? '', id, guest)));
    const said = await Promise.all(answers.map(answerOf));
    expect(said.filter(({ status }) => status === 201)).toHaveLength(1);
    const told = said.filter(({ type, placesLeft }) => type === '/problems/course-full' && placesLeft === 0);
    expect([
      told.length,
      said.map(({ status }) => status).filter((status) => status !== 201 && status !== 409),
    ]).toEqual([REQUESTS - 1, []]);
    expect(await db.place.count({ where: { booking: { courseId: id, cancelledAt: null } } })).toBe(1);
    expect(await db.charge.count({ where: { booking: { courseId: id } } })).toBe(1);
  }
});

type Said = { status: number; type?: string; placesLeft?: number };
const answerOf = async (answer: Response): Promise<Said> => ({
  ...((await answer.json()) as Omit<Said, 'status'>),
  status: answer.status,
});

/** A guest has one place at a time in one room: each round on days of its own, long after today by these servers' own clock. */
const later = (round: number) =>
  home.body.sessions.map((session: { startsAt: string; endsAt: string }) => ({
    ...session,
    startsAt: moved(session.startsAt, round),
    endsAt: moved(session.endsAt, round),
  }));
const moved = (instant: string, round: number) =>
  new Date(Date.parse(instant) + (20_000 + 60 * round) * DAY_MILLISECONDS).toISOString();

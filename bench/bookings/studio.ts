import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { v7 } from 'uuid';
import { openDatabase } from '../../src/database/client.js';
import { buildApp } from '../../src/server/app.js';
import { signIn } from '../../src/studio/staff/sign-in.js';

/** What each payment pays: less than the deposit, so that none confirms a place. */
export const PAID_MINOR = 1000;
/** Places in each course that is booked here. */
export const PLACES = 200;

export type Booked = { chargeId: string; payerId: string };

/** The invented studio's owner, as its demo says. */
const OWNER = { email: 'mara@alderlane.example', password: 'alder lane demo' };

/** The program over this database, called without a network between, with its owner signed in. */
export async function program(url: string) {
  const { db, close } = await openDatabase(url);
  const app = await buildApp({ db });
  await app.ready();
  const cookie = `wareboard=${await signIn(db, new Date(), OWNER)}`;
  let callers = 0;
  const post = async <T>(address: string, payload: object): Promise<T> => {
    const remoteAddress = `10.${(++callers >> 16) % 256}.${(callers >> 8) % 256}.${callers % 256}`; // so many from one would be refused
    const headers = { cookie, 'sec-fetch-site': 'same-origin', 'idempotency-key': randomUUID() };
    const answer = await app.inject({ method: 'POST', url: address, remoteAddress, headers, payload });
    if (answer.statusCode !== 201) throw new Error(`${address}: ${answer.statusCode} ${answer.body.slice(0, 300)}`);
    return answer.json<T>();
  };
  return {
    book: (courseId: string, personId: string) =>
      post<Booked>(`/api/courses/${courseId}/bookings`, { payerId: personId, attendeeIds: [personId] }),
    pay: ({ chargeId, payerId }: Booked) =>
      post('/api/payments', { personId: payerId, method: 'cash', for: [{ chargeId, amountMinor: PAID_MINOR }] }),
    async close() {
      await app.close();
      await close();
    },
  };
}

/** What there is to book: so many people, and courses like one that the demo has, each with a room to itself and many places. */
export async function furnish(url: string, { courses, people }: { courses: number; people: number }) {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  const peopleIds = Array.from({ length: people }, () => v7());
  await client.query(
    `INSERT INTO person (id, name, email, created_at, address_lines)
     SELECT id, 'Caller ' || n, 'caller' || n || '@example.org', now(), '{}' FROM unnest($1::uuid[]) WITH ORDINALITY AS p (id, n)`,
    [peopleIds],
  );
  const { rows } = await client.query<{ id: string }>(
    `WITH likeness AS (
            SELECT c.id FROM course c JOIN course_plan p ON p.id = c.plan_id JOIN session s ON s.course_id = c.id AND s.ordinal = 1
             WHERE p.kind = 'course' AND c.deposit_minor > 3 * $3 AND s.starts_at > now() + interval '3 weeks' ORDER BY s.starts_at LIMIT 1),
          n AS (SELECT gen_random_uuid() AS room, gen_random_uuid() AS course FROM generate_series(1, $1::int)),
          r AS (INSERT INTO room (id, name, benches) SELECT room, 'Room ' || room, $2 FROM n),
          c AS (INSERT INTO course (id, plan_id, title, places, minimum, price_minor, deposit_minor, hold_hours, balance_due_days, tax_rate_id,
                                    refund_policy_id, per_head_above_minor, balance_payments, balance_every_days)
                SELECT n.course, plan_id, title, $2, minimum, price_minor, deposit_minor, hold_hours, balance_due_days, tax_rate_id,
                       refund_policy_id, per_head_above_minor, balance_payments, balance_every_days
                  FROM course, n WHERE course.id = (SELECT id FROM likeness)),
          s AS (INSERT INTO session (id, course_id, ordinal, purpose, starts_at, ends_at, room_id, benches)
                SELECT gen_random_uuid(), n.course, ordinal, purpose, starts_at, ends_at, n.room, $2
                  FROM session, n WHERE course_id = (SELECT id FROM likeness))
     SELECT course AS id FROM n`,
    [courses, PLACES, PAID_MINOR],
  );
  await client.query('VACUUM ANALYZE');
  await client.end();
  return { people: peopleIds, courses: rows.map(({ id }) => id) };
}

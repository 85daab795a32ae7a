import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { v7 } from 'uuid';
import { type Booked, PAID_MINOR } from './studio.js';

// What somebody competent would write for this one purpose with pg alone: named statements in one transaction, the course's row locked
// before its places are counted, the same rows in the same tables with the same answer kept. It asks nothing that this needs not: no
// session, no concession, no hold that has run out, no other rate of VAT.

const named =
  (name: string, text: string) =>
  (client: pg.PoolClient, values: unknown[]): Promise<pg.QueryResult> =>
    client.query({ name, text, values });

const ASK = {
  lock: named(
    'lock',
    `SELECT c.title, c.places, c.price_minor, c.deposit_minor, c.hold_hours FROM course c WHERE c.id = $1 FOR NO KEY UPDATE`,
  ),
  taken: named(
    'taken',
    `SELECT count(*)::int AS taken, count(*) FILTER (WHERE p.person_id = $2)::int AS own
       FROM place p JOIN booking b ON b.id = p.booking_id WHERE b.course_id = $1 AND b.cancelled_at IS NULL`,
  ),
  words: named(
    'words',
    `SELECT p.name, t.name AS tax, t.kind, t.percent, array_agg(s.starts_at ORDER BY s.ordinal) AS days
       FROM course c JOIN tax_rate t ON t.id = c.tax_rate_id JOIN session s ON s.course_id = c.id, person p
      WHERE c.id = $1 AND p.id = $2 GROUP BY p.name, t.name, t.kind, t.percent`,
  ),
  entry: named(
    'entry',
    `INSERT INTO journal_entry (id, posted_on, at, description) VALUES ($1, current_date, now(), $2)`,
  ),
  charged: named(
    'charged',
    `INSERT INTO posting (id, entry_id, account_code, person_id, amount_minor)
     VALUES ($1, $2, 'receivable', $3, $4), ($5, $2, 'billed-in-advance', NULL, -$4::int)`,
  ),
  charge: named(
    'charge',
    `INSERT INTO charge (id, person_id, kind, description, quantity, gross_minor, tax_name, tax_kind, tax_percent, in_advance, charged_on, entry_id)
     VALUES ($1, $2, 'course', $3, 1, $4, $5, $6, $7, true, current_date, $8)`,
  ),
  instalments: named(
    'instalments',
    `INSERT INTO instalment (charge_id, due_on, amount_minor) VALUES ($1, current_date + 1, $2), ($1, current_date + 46, $3)`,
  ),
  booking: named(
    'booking',
    `INSERT INTO booking (id, course_id, payer_id, charge_id, deposit_minor, held_until, booked_at)
     VALUES ($1, $2, $3, $4, $5, now() + $6 * interval '1 hour', now())`,
  ),
  place: named('place', `INSERT INTO place (id, booking_id, person_id) VALUES ($1, $2, $3)`),
  notice: named(
    'notice',
    `INSERT INTO notice (id, person_id, occasion, data, message_id, created_at) VALUES ($1, $2, $3::notice_occasion, $4, $5, now())`,
  ),
  noticed: named('noticed', `INSERT INTO booking_notice (booking_id, occasion, notice_id) VALUES ($1, 'booking', $2)`),
  job: named(
    'job',
    `SELECT 1 FROM graphile_worker.add_job('deliver-notice', json_build_object('noticeId', $1::text), job_key := 'deliver-' || $1::text, max_attempts := 30)`,
  ),
  key: named(
    'key',
    `INSERT INTO request_key (caller, key, fingerprint, answer, created_at) VALUES ('by hand', $1, $1, $2, now())`,
  ),
  owed: named(
    'owed',
    `SELECT c.gross_minor - (SELECT coalesce(sum(amount_minor), 0)::int FROM allocation WHERE charge_id = c.id)
              - (SELECT coalesce(sum(amount_minor), 0)::int FROM credit WHERE charge_id = c.id) AS owed, c.description, p.name, p.address_lines, b.id AS booking
       FROM charge c JOIN person p ON p.id = c.person_id JOIN booking b ON b.charge_id = c.id WHERE c.id = $1 FOR UPDATE OF c`,
  ),
  studio: named('studio', `SELECT name, address_lines, vat_number, currency, locale FROM studio`),
  paid: named(
    'paid',
    `INSERT INTO posting (id, entry_id, account_code, person_id, amount_minor)
     VALUES ($1, $2, 'cash', NULL, $3), ($4, $2, 'receivable', $5, -$3::int), ($6, $2, 'billed-in-advance', NULL, $3),
            ($7, $2, 'vat', NULL, -$8::int), ($9, $2, 'deposits-held', NULL, -($3::int - $8::int))`,
  ),
  payment: named(
    'payment',
    `INSERT INTO payment (id, person_id, amount_minor, method, received_on, at, entry_id) VALUES ($1, $2, $3, 'cash', current_date, now(), $4)`,
  ),
  allocation: named('allocation', `INSERT INTO allocation (payment_id, charge_id, amount_minor) VALUES ($1, $2, $3)`),
  number: named(
    'number',
    `UPDATE number_series SET last_number = last_number + 1 WHERE series = 'R' RETURNING last_number`,
  ),
  paper: named(
    'paper',
    `INSERT INTO document (id, kind, file_name, content, created_at) VALUES ($1, 'receipt', $2, $3, now())`,
  ),
  receipt: named('receipt', `INSERT INTO receipt (series, number, payment_id, document_id) VALUES ('R', $1, $2, $3)`),
};

async function write(client: pg.PoolClient, personId: string, occasion: string, data: object): Promise<string> {
  const id = v7();
  await ASK.notice(client, [id, personId, occasion, JSON.stringify(data), `<${id}@wareboard>`]);
  await ASK.job(client, [id]);
  return id;
}

async function book(client: pg.PoolClient, courseId: string, personId: string): Promise<Booked> {
  const course = (await ASK.lock(client, [courseId])).rows[0];
  const { taken, own } = (await ASK.taken(client, [courseId, personId])).rows[0];
  if (taken >= course.places || own > 0) throw new Error('No place is left.');
  const said = (await ASK.words(client, [courseId, personId])).rows[0];
  const [entryId, chargeId, id] = [v7(), v7(), v7()];
  const { title, price_minor: priceMinor, deposit_minor: depositMinor } = course;
  const description = `${title}, ${said.days.map((day: Date) => day.toDateString()).join(', ')}, 1 place`;
  await ASK.entry(client, [entryId, description]);
  await ASK.charged(client, [v7(), entryId, personId, priceMinor, v7()]);
  const tax = [said.tax, said.kind, said.percent];
  await ASK.charge(client, [chargeId, personId, description, priceMinor, ...tax, entryId]);
  await ASK.instalments(client, [chargeId, depositMinor, priceMinor - depositMinor]);
  await ASK.booking(client, [id, courseId, personId, chargeId, depositMinor, course.hold_hours]);
  await ASK.place(client, [v7(), id, personId]);
  const words = { course: title, sessions: said.days, attendees: [said.name], price: priceMinor };
  await ASK.noticed(client, [id, await write(client, personId, 'booking', words)]);
  await ASK.key(client, [randomUUID(), JSON.stringify({ id, chargeId, ...words, state: 'provisional' })]);
  return { chargeId, payerId: personId };
}

async function pay(client: pg.PoolClient, { chargeId, payerId }: Booked): Promise<void> {
  const charge = (await ASK.owed(client, [chargeId])).rows[0];
  if (charge.owed < PAID_MINOR) throw new Error('Less is owed.');
  const studio = (await ASK.studio(client, [])).rows[0];
  const [entryId, paymentId, documentId] = [v7(), v7(), v7()];
  await ASK.entry(client, [entryId, `Paid: ${charge.description}`]);
  const vat = Math.round(PAID_MINOR / 6);
  await ASK.paid(client, [v7(), entryId, PAID_MINOR, v7(), payerId, v7(), v7(), vat, v7()]);
  await ASK.payment(client, [paymentId, payerId, PAID_MINOR, entryId]);
  await ASK.allocation(client, [paymentId, chargeId, PAID_MINOR]);
  const number = (await ASK.number(client, [])).rows[0].last_number;
  const lines = [{ description: charge.description, grossMinor: PAID_MINOR, vat }];
  const content = { studio, to: charge.name, lines };
  const fileName = `receipt-r-${String(number).padStart(6, '0')}.pdf`;
  await ASK.paper(client, [documentId, fileName, JSON.stringify(content)]);
  await ASK.receipt(client, [number, paymentId, documentId]);
  await write(client, payerId, 'receipt', content);
  await ASK.key(client, [randomUUID(), JSON.stringify({ id: paymentId, number, ...content })]);
}

/** Bookings and payments by pg alone, over so many connections as the program has. */
export function byHand(url: string) {
  const pool = new pg.Pool({ connectionString: url, max: 10 });
  const inTransaction = async <T>(work: (client: pg.PoolClient) => Promise<T>): Promise<T> => {
    const client = await pool.connect();
    try {
      await client.query('BEGIN');
      const answer = await work(client);
      await client.query('COMMIT');
      return answer;
    } catch (error) {
      await client.query('ROLLBACK');
      throw error;
    } finally {
      client.release();
    }
  };
  return {
    book: (courseId: string, personId: string) => inTransaction((client) => book(client, courseId, personId)),
    pay: (booked: Booked) => inTransaction((client) => pay(client, booked)),
    close: () => pool.end(),
  };
}

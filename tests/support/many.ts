import type pg from 'pg';
import { withClient } from '../../src/database/client.js';
import { newCode } from '../../src/trade/text/ware-code.js';

const MANY = {
  people: 10_000,
  courses: 2_500,
  bookings: 20_000,
  pieces: 80_000,
  firings: 1_500,
  open: 300,
  here: 1_500,
};

/** The id of the n-th row of a table that is known by two digits. */
export const idOf = (table: string, n: number) => `${table}000000-0000-7000-8000-${n.toString(16).padStart(12, '0')}`;
const id = (table: string, n: string) => `('${table}000000-0000-7000-8000-' || lpad(to_hex(${n}), 12, '0'))::uuid`;
const ONE = [
  'ma',
  'li',
  'ro',
  'tan',
  'vik',
  'sel',
  'dun',
  'ber',
  'quil',
  'zor',
  'hé',
  'pom',
  'jú',
  'wend',
  'fos',
  'gry',
  'cas',
  'nø',
  'ib',
];
const TWO = ['ford', 'wick', 'ley', 'ström', 'mann', 'escu', 'ová', 'sen', 'ridge', 'holt', 'ard', 'ine', 'as'];

const OF = {
  planId: idOf('20', 1),
  roomId: idOf('21', 1),
  taxRateId: idOf('22', 1),
  policyId: idOf('23', 1),
  kilnId: idOf('24', 1),
  scheduleId: idOf('25', 1),
};
const at = (n: string) => `timestamptz '2007-01-01' + (${n}) * interval '8 hours'`;
const word = (list: string[], n: string) => `(ARRAY['${list.join(`','`)}'])[1 + (${n}) % ${list.length}]`;

/**
 * A studio's books after twenty busy years, without its arithmetic: rows as many as lists have to cope with, put in past the triggers.
 * Needs a superuser.
 */
export async function fillWithMany(url: string): Promise<void> {
  await withClient(url, async (client) => {
    await client.query(`SET session_replication_role = 'replica'`);
    await addPeopleAndCourses(client);
    await addBookings(client);
    await addWare(client);
    await addFirings(client);
    await client.query('ANALYZE');
  });
}

async function addPeopleAndCourses(client: pg.Client): Promise<void> {
  await client.query(`INSERT INTO course_plan (id, name, places, minimum, payments, other_minutes, minutes_per_student, advertising_minor, sunk_if_cancelled_minor)
    VALUES ('${OF.planId}', 'Evening class', 12, 3, 1, 60, 5, 0, 0);
    INSERT INTO room VALUES ('${OF.roomId}', 'Long room', 12);
    INSERT INTO tax_rate VALUES ('${OF.taxRateId}', 'None', 'exempt', NULL);
    INSERT INTO refund_policy VALUES ('${OF.policyId}', 'Usual', 500);
    INSERT INTO kiln (id, name, shape, width_mm, depth_mm, height_mm, rated_kw, fill_percent) VALUES ('${OF.kilnId}', 'Big kiln', 'round', 500, 500, 600, 9, 60);
    INSERT INTO schedule (id, name, kind) VALUES ('${OF.scheduleId}', 'Slow bisque', 'bisque')`);
  await client.query(`INSERT INTO person (id, name, email, phone, address_lines, created_at, member_since)
    SELECT ${id('01', 'n')}, initcap(${word(ONE, 'n')} || ${word(TWO, 'n / 19')}) || ' ' || initcap(${word(ONE, 'n * 7 / 3')} || ${word(ONE, 'n * 11 / 5')} || ${word(TWO, 'n / 7')}),
           'p' || n || '@example.org', '07700 ' || lpad(n::text, 6, '0'), '{}', ${at('n')}, CASE WHEN n % 50 = 0 THEN date '2020-01-01' END
      FROM generate_series(1, ${MANY.people}) n`);
  await client.query(`INSERT INTO course (id, plan_id, title, places, minimum, price_minor, deposit_minor, hold_hours, balance_due_days, tax_rate_id, refund_policy_id, completed_on)
    SELECT ${id('02', 'n')}, '${OF.planId}', ${word(['Bowls', 'Mugs', 'Throwing', 'Tiles'], 'n')} || ' ' || n, 12, 3, 20000, 5000, 48, 14, '${OF.taxRateId}', '${OF.policyId}',
           CASE WHEN n < ${MANY.courses} - 20 THEN date '2026-01-01' END FROM generate_series(1, ${MANY.courses}) n`);
  await client.query(`INSERT INTO session (id, course_id, ordinal, purpose, starts_at, ends_at, room_id, benches)
    SELECT ${id('03', 'n * 4 + k')}, ${id('02', 'n')}, k, 'making', s, s + interval '2 hours', '${OF.roomId}', 1
      FROM generate_series(1, ${MANY.courses}) n, generate_series(1, 3) k, LATERAL (SELECT timestamptz '2006-03-01' + n * interval '71 hours' + k * interval '7 days' AS s) t`);
}

async function addBookings(client: pg.Client): Promise<void> {
  const booked = `generate_series(1, ${MANY.bookings}) n`;
  const payer = id('01', `1 + (n * 7919) % ${MANY.people}`);
  const paid = `n <= ${MANY.bookings - MANY.open} AND n % 20 <> 0`;
  await client.query(`INSERT INTO journal_entry (id, posted_on, at, description) SELECT ${id('04', 'n')}, (${at('n')})::date, ${at('n')}, 'x' FROM ${booked}
    UNION ALL SELECT ${id('05', 'n')}, (${at('n')})::date, ${at('n')}, 'x' FROM ${booked}`);
  await client.query(`INSERT INTO charge (id, person_id, kind, description, quantity, gross_minor, tax_name, tax_kind, in_advance, charged_on, entry_id)
    SELECT ${id('06', 'n')}, ${payer}, 'course', 'Course ' || n / 8, 1, 20000, 'x', 'exempt', true, (${at('n')})::date, ${id('04', 'n')} FROM ${booked}`);
  await client.query(`INSERT INTO instalment SELECT ${id('06', 'n')}, (${at('n')})::date, 20000 FROM ${booked}`);
  await client.query(`INSERT INTO booking (id, course_id, payer_id, charge_id, deposit_minor, held_until, booked_at, cancelled_at, cancelled_because)
    SELECT ${id('07', 'n')}, ${id('02', '1 + (n - 1) / 8')}, ${payer}, ${id('06', 'n')}, 5000, ${at('n + 6')}, ${at('n')},
           CASE WHEN n % 20 = 0 THEN ${at('n + 6')} END, CASE WHEN n % 20 = 0 THEN 'x' END FROM ${booked}`);
  await client.query(
    `INSERT INTO place (id, booking_id, person_id) SELECT ${id('08', 'n')}, ${id('07', 'n')}, ${payer} FROM ${booked}`,
  );
  await client.query(`INSERT INTO credit (id, charge_id, amount_minor, reason, credited_on, entry_id)
    SELECT ${id('09', 'n')}, ${id('06', 'n')}, 20000, 'x', (${at('n + 6')})::date, ${id('05', 'n')} FROM ${booked} WHERE n % 20 = 0`);
  await client.query(`INSERT INTO payment (id, person_id, amount_minor, method, received_on, at, entry_id)
    SELECT ${id('0a', 'n')}, ${payer}, 20000, 'card', (${at('n')})::date, ${at('n')}, ${id('05', 'n')} FROM ${booked} WHERE ${paid}`);
  await client.query(
    `INSERT INTO allocation SELECT ${id('0a', 'n')}, ${id('06', 'n')}, 20000 FROM ${booked} WHERE ${paid}`,
  );
  await client.query(
    `INSERT INTO open_charge SELECT ${id('06', 'n')} FROM ${booked} WHERE NOT (${paid}) AND n % 20 <> 0`,
  );
  await client.query(`INSERT INTO document (id, kind, file_name, content, created_at)
    SELECT ${id('0b', 'n')}, 'receipt', 'receipt-' || n || '.pdf', '{}', ${at('n')} FROM ${booked} WHERE ${paid}`);
  await client.query(
    `INSERT INTO receipt SELECT 'R', row_number() OVER (), ${id('0a', 'n')}, ${id('0b', 'n')} FROM ${booked} WHERE ${paid}`,
  );
  await client.query(`INSERT INTO notice (id, person_id, occasion, data, document_id, message_id, created_at, state)
    SELECT ${id('0c', 'n')}, ${payer}, 'receipt', '{}', CASE WHEN ${paid} THEN ${id('0b', 'n')} END, 'm' || n, ${at('n')},
           CASE WHEN n % 997 = 0 THEN 'failed' ELSE 'sent' END::notice_state FROM ${booked}`);
  await client.query(
    `INSERT INTO delivery SELECT ${id('0d', 'n')}, ${id('0c', 'n')}, ${at('n')}, CASE WHEN n % 997 = 0 THEN 'failed' ELSE 'sent' END::delivery_outcome, 'x' FROM ${booked}`,
  );
}

async function addWare(client: pg.Client): Promise<void> {
  const codes = Array.from({ length: MANY.pieces }, (_, i) => newCode(i + 1));
  const stage = `CASE WHEN n <= ${MANY.pieces - MANY.here} THEN 'collected' ELSE ${word(['greenware', 'dry', 'bisque', 'ready'], 'n')} END::piece_stage`;
  await client.query(
    `INSERT INTO piece (id, code, serial, maker_id, course_id, firing_paid_by, description, form, width_mm, depth_mm, height_mm, measured, stage, created_at)
    SELECT ${id('0e', 'n')}, code, n, ${id('01', `1 + n % ${MANY.people}`)}, CASE WHEN n % 3 > 0 THEN ${id('02', `1 + n % ${MANY.courses}`)} END, 'maker',
           ${word(['Mug', 'Bowl', 'Vase with a lip', 'Plate'], 'n')} || ' ' || n % 100, ${word(['mug', 'bowl', 'bottle', 'plate'], 'n')}::ware_form, 100, 100, 100, true, ${stage},
           timestamptz '2007-01-01' + n * interval '2 hours' FROM unnest($1::text[]) WITH ORDINALITY AS c (code, n_big), LATERAL (SELECT n_big::int AS n) i`,
    [codes],
  );
  await client.query(`INSERT INTO piece_event (id, piece_id, at, stage, note)
    SELECT ${id('0f', 'n * 4 + k')}, ${id('0e', 'n')}, timestamptz '2007-01-01' + n * interval '2 hours' + k * interval '5 days', ${stage}, ''
      FROM generate_series(1, ${MANY.pieces}) n, generate_series(1, 3) k`);
}

async function addFirings(client: pg.Client): Promise<void> {
  const day = (n: string) => `timestamptz '2007-01-01' + (${n}) * interval '4 days'`;
  const past = (n: string, moment: string) => `CASE WHEN ${n} <= 1497 THEN ${moment} END`;
  await client.query(`INSERT INTO firing (id, number, kiln_id, schedule_id, state, planned_from, planned_to, started_at, ended_at, unloaded_at, labour_minutes)
    SELECT ${id('10', 'n')}, n, '${OF.kilnId}', '${OF.scheduleId}', CASE WHEN n > 1497 THEN 'planned' ELSE 'unloaded' END::firing_state,
           ${day('n')}, ${day('n + 0.5')}, ${past('n', day('n'))}, ${past('n', day('n + 0.2'))}, ${past('n', day('n + 0.5'))}, 30
      FROM generate_series(1, ${MANY.firings}) n`);
}

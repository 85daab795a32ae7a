import { OPEN_RULES } from './open-rules.js';
import { REFILL_RULE } from './refill-rule.js';
import type { Transaction } from './transaction.js';
import { VAT_RULES } from './vat-rules.js';
import { WARE_RULES } from './ware-rules.js';

/**
 * What must hold of every studio's database at any moment, whatever was done at once or killed half-way. Each query finds what
 * breaks its rule and says so in one column, `fault`.
 */
const RULES: { name: string; sql: string }[] = [
  {
    name: 'what is split adds up',
    sql: `SELECT format('charge %s: its instalments are off by %s', c.id, c.gross_minor - coalesce(sum(i.amount_minor), 0)) AS fault
            FROM charge c LEFT JOIN instalment i ON i.charge_id = c.id GROUP BY c.id
          HAVING c.gross_minor <> coalesce(sum(i.amount_minor), 0)
          UNION ALL
          SELECT format('charge %s: its parts are %s too much', c.id, sum(p.gross_minor) - c.gross_minor)
            FROM charge c JOIN charge_part p ON p.charge_id = c.id GROUP BY c.id HAVING sum(p.gross_minor) > c.gross_minor`,
  },
  ...VAT_RULES,
  REFILL_RULE,
  ...OPEN_RULES,
  {
    name: 'no course is oversold',
    sql: `SELECT format('course %s has %s places and %s are taken', c.id, c.places, count(*)) AS fault
            FROM course c JOIN booking b ON b.course_id = c.id AND b.cancelled_at IS NULL JOIN place p ON p.booking_id = b.id
           GROUP BY c.id HAVING count(*) > c.places`,
  },
  {
    name: 'no concession is given more often than it may be, nor on another course',
    sql: `SELECT format('concession %s is for %s places and %s have it', c.id, c.at_most, count(*)) AS fault
            FROM course_concession c JOIN place p ON p.concession_id = c.id JOIN booking b ON b.id = p.booking_id
           WHERE b.cancelled_at IS NULL GROUP BY c.id HAVING count(*) > c.at_most
          UNION ALL
          SELECT format('place %s has a concession of course %s', p.id, c.course_id)
            FROM course_concession c JOIN place p ON p.concession_id = c.id JOIN booking b ON b.id = p.booking_id
           WHERE b.course_id <> c.course_id`,
  },
  {
    name: 'a private session is for one group, and only open studio runs with nobody',
    sql: `SELECT format('private session %s has %s bookings', c.id, count(*)) AS fault
            FROM course c JOIN course_plan p ON p.id = c.plan_id JOIN booking b ON b.course_id = c.id AND b.cancelled_at IS NULL
           WHERE p.kind = 'private' GROUP BY c.id HAVING count(*) > 1
          UNION ALL
          SELECT format('course %s: %s, minimum %s, %s for each extra person', c.id, p.kind, c.minimum, c.per_head_above_minor)
            FROM course c JOIN course_plan p ON p.id = c.plan_id
           WHERE (p.kind = 'openStudio') <> (c.minimum = 0) OR (p.kind = 'private') <> (c.per_head_above_minor IS NOT NULL)`,
  },
  {
    name: 'a course has the sessions of its plan',
    sql: `SELECT format('course %s has sessions for %s, and its plan for %s', c.id, s.purposes, p.purposes) AS fault
            FROM course c,
            LATERAL (SELECT string_agg(purpose::text, ', ' ORDER BY ordinal) AS purposes FROM session WHERE course_id = c.id) s,
            LATERAL (SELECT string_agg(purpose::text, ', ' ORDER BY ordinal) AS purposes FROM plan_session WHERE plan_id = c.plan_id) p
           WHERE s.purposes IS DISTINCT FROM p.purposes`,
  },
  {
    name: 'no tutor is in two places',
    sql: `SELECT format('tutor %s teaches %s and %s at once', a.staff_member_id, a.session_id, b.session_id) AS fault
            FROM session_tutor a JOIN session_tutor b ON a.staff_member_id = b.staff_member_id AND a.session_id < b.session_id
             AND tstzrange(a.starts_at, a.ends_at) && tstzrange(b.starts_at, b.ends_at)`,
  },
  {
    name: 'no kiln is planned twice at once',
    sql: `SELECT format('kiln %s is planned for firings %s and %s at once', a.kiln_id, a.number, b.number) AS fault
            FROM firing a JOIN firing b ON a.kiln_id = b.kiln_id AND a.number < b.number
             AND a.state = 'planned' AND b.state = 'planned'
             AND tstzrange(a.planned_from, a.planned_to) && tstzrange(b.planned_from, b.planned_to)`,
  },
  {
    name: 'no room needs more benches than it has',
    sql: `SELECT format('room %s has %s benches and %s are used at %s', r.id, r.benches, sum(t.benches), s.starts_at) AS fault
            FROM session s JOIN room r ON r.id = s.room_id
            JOIN session t ON t.room_id = r.id AND t.starts_at <= s.starts_at AND s.starts_at < t.ends_at
           GROUP BY r.id, s.id HAVING sum(t.benches) > r.benches`,
  },
  {
    name: 'every journal entry balances',
    sql: `SELECT format('entry %s is off by %s', e.id, coalesce(sum(p.amount_minor), 0)) AS fault
            FROM journal_entry e LEFT JOIN posting p ON p.entry_id = e.id GROUP BY e.id
          HAVING coalesce(sum(p.amount_minor), 0) <> 0 OR count(p.id) < 2`,
  },
  {
    name: 'what people owe in the books is what their charges say',
    sql: `SELECT format('person %s owes %s by the books and %s by the charges', p.id, b.owed, c.owed) AS fault
            FROM person p,
            LATERAL (SELECT coalesce(sum(amount_minor), 0) AS owed FROM posting WHERE person_id = p.id) b,
            LATERAL (SELECT (SELECT coalesce(sum(gross_minor), 0) FROM charge WHERE person_id = p.id)
                          - (SELECT coalesce(sum(r.amount_minor), 0) FROM credit r JOIN charge h ON h.id = r.charge_id WHERE h.person_id = p.id)
                          - (SELECT coalesce(sum(a.amount_minor), 0) FROM payment y JOIN allocation a ON a.payment_id = y.id WHERE y.person_id = p.id) AS owed) c
           WHERE b.owed <> c.owed`,
  },
  {
    name: 'nothing is held for a course that is over',
    sql: `SELECT format('%s holds %s though everything was supplied', account_code, -sum(amount_minor)) AS fault
            FROM posting WHERE account_code IN ('deposits-held', 'billed-in-advance')
             AND NOT EXISTS (SELECT 1 FROM charge c WHERE c.in_advance AND NOT EXISTS (SELECT 1 FROM supply s WHERE s.charge_id = c.id))
           GROUP BY account_code HAVING sum(amount_minor) <> 0`,
  },
  {
    name: 'every payment is for something, and nothing is overpaid',
    sql: `SELECT format('payment %s: %s is for nothing', p.id, p.amount_minor - x.used) AS fault
            FROM payment p, LATERAL (SELECT (SELECT coalesce(sum(amount_minor), 0) FROM allocation WHERE payment_id = p.id)
              + (SELECT coalesce(sum(amount_minor), 0) FROM voucher_move WHERE entry_id = p.entry_id AND kind = 'sold') AS used) x
           WHERE p.amount_minor <> x.used
          UNION ALL
          SELECT format('charge %s: %s asked, %s paid', c.id, s.asked, s.paid)
            FROM charge c, LATERAL (SELECT
              c.gross_minor - (SELECT coalesce(sum(amount_minor), 0) FROM credit WHERE charge_id = c.id) AS asked,
              (SELECT coalesce(sum(amount_minor), 0) FROM allocation WHERE charge_id = c.id) AS paid) s
           WHERE s.asked < 0 OR s.paid < 0 OR s.paid > s.asked`,
  },
  {
    name: 'what is left on a voucher is between nothing and its sum, and the books owe it',
    sql: `WITH held AS (
            SELECT v.*, coalesce(sum(m.amount_minor), 0) AS rest FROM voucher v LEFT JOIN voucher_move m ON m.voucher_id = v.id GROUP BY v.id)
          SELECT format('voucher %s of %s holds %s', code, amount_minor, rest) AS fault FROM held WHERE rest NOT BETWEEN 0 AND amount_minor
          UNION ALL
          SELECT format('vouchers-outstanding owes %s and the vouchers hold %s', b.owed, h.held)
            FROM (SELECT -coalesce(sum(amount_minor), 0) AS owed FROM posting WHERE account_code = 'vouchers-outstanding') b,
                 (SELECT coalesce(sum(rest - coalesce(round(rest * tax_percent / (100 + tax_percent)), 0)), 0) AS held FROM held) h
           WHERE b.owed <> h.held`,
  },
  {
    name: 'what a voucher paid came off it',
    sql: `SELECT format('payment %s by voucher: %s', p.id, p.amount_minor) AS fault
            FROM payment p LEFT JOIN voucher_move m ON m.entry_id = p.entry_id AND m.kind IN ('used', 'returned')
           WHERE (p.method = 'voucher' OR m.id IS NOT NULL) AND (p.method <> 'voucher' OR m.amount_minor IS DISTINCT FROM -p.amount_minor)
          UNION ALL
          SELECT format('voucher %s: %s %s without a payment', m.voucher_id, m.kind, m.amount_minor)
            FROM voucher_move m WHERE m.kind <> 'lapsed' AND NOT EXISTS (SELECT 1 FROM payment p WHERE p.entry_id = m.entry_id)`,
  },
  {
    name: 'receipts and credit notes are numbered without gaps',
    sql: `SELECT format('%s %s-%s follows %s', kind, series, number, previous) AS fault FROM (
            SELECT 'receipt' AS kind, series, number, lag(number, 1, 0) OVER (PARTITION BY series ORDER BY number) AS previous FROM receipt
            UNION ALL
            SELECT 'credit note', series, number, lag(number, 1, 0) OVER (PARTITION BY series ORDER BY number) FROM credit_note) n
           WHERE number <> previous + 1
          UNION ALL
          SELECT format('series %s ends with %s and the last paper has %s', s.series, s.last_number, n.number)
            FROM number_series s, LATERAL (SELECT coalesce(max(number), 0) AS number FROM (
              SELECT series, number FROM receipt UNION ALL SELECT series, number FROM credit_note) x WHERE x.series = s.series) n
           WHERE n.number <> s.last_number`,
  },
  {
    name: 'every payment that came in has its receipt',
    sql: `SELECT format('payment %s has none', p.id) AS fault FROM payment p
           WHERE p.amount_minor > 0 AND NOT EXISTS (SELECT 1 FROM receipt r WHERE r.payment_id = p.id)`,
  },
  {
    name: 'a rendering is what it was',
    sql: `SELECT format('document %s does not match its SHA-256', document_id) AS fault FROM rendering
           WHERE sha256 <> encode(sha256(pdf), 'hex')`,
  },
  {
    name: 'what is left of a lot is between nothing and what came',
    sql: `SELECT format('lot %s holds %s worth %s', l.id, sum(m.quantity), sum(m.cost_minor)) AS fault
            FROM lot l JOIN stock_move m ON m.lot_id = l.id,
            LATERAL (SELECT l.cost_minor + coalesce(sum(amount_minor), 0) AS minor FROM carriage_share WHERE lot_id = l.id) cost
           GROUP BY l.id, cost.minor
          HAVING sum(m.quantity) NOT BETWEEN 0 AND l.quantity OR sum(m.cost_minor) NOT BETWEEN 0 AND cost.minor
              OR (sum(m.quantity) = 0 AND sum(m.cost_minor) <> 0)`,
  },
  {
    name: 'a batch costs what it drew',
    sql: `SELECT format('batch %s costs %s and drew %s', b.number, l.cost_minor, d.minor) AS fault
            FROM mix_batch b JOIN lot l ON l.id = b.lot_id, LATERAL (
              SELECT coalesce(-sum(s.cost_minor), 0) AS minor FROM mix_draw x JOIN stock_move s ON s.id = x.move_id
               WHERE x.batch_id = b.id) d
           WHERE l.cost_minor <> d.minor`,
  },
  {
    name: 'what was sold left by one sale, and what is not kept came back into its lots',
    sql: `WITH moved AS (
            SELECT x.sale_id, x.taking_back_id, m.* FROM sale_move x JOIN stock_move m ON m.id = x.move_id)
          SELECT format('stock move %s is %s by no sale', m.id, m.kind) AS fault FROM stock_move m
           WHERE m.kind IN ('sold', 'takenBack') AND NOT EXISTS (SELECT 1 FROM sale_move x WHERE x.move_id = m.id)
          UNION ALL
          SELECT format('sale %s: stock move %s is %s, of material %s', s.id, m.id, m.kind, m.material_id)
            FROM sale s JOIN moved m ON m.sale_id = s.id
           WHERE m.material_id <> s.material_id OR m.kind <> (CASE WHEN m.taking_back_id IS NULL THEN 'sold' ELSE 'takenBack' END)::move_kind
          UNION ALL
          SELECT format('sale %s is of %s and took %s', s.id, s.quantity, coalesce(-sum(m.quantity), 0))
            FROM sale s LEFT JOIN moved m ON m.sale_id = s.id AND m.taking_back_id IS NULL GROUP BY s.id
          HAVING s.quantity <> coalesce(-sum(m.quantity), 0)
          UNION ALL
          SELECT format('taking-back %s is of %s and brought %s', t.id, t.quantity, coalesce(sum(m.quantity), 0))
            FROM taking_back t LEFT JOIN moved m ON m.taking_back_id = t.id GROUP BY t.id
          HAVING t.quantity <> coalesce(sum(m.quantity), 0)
          UNION ALL
          SELECT format('sale %s brought more into lot %s than it took: %s worth %s', sale_id, lot_id, sum(quantity), sum(cost_minor))
            FROM moved GROUP BY sale_id, lot_id HAVING sum(quantity) > 0 OR sum(cost_minor) > 0`,
  },
  {
    name: 'a sale is charged, less what came back, at its price',
    sql: `SELECT format('charge %s of material belongs to no sale', c.id) AS fault FROM charge c
           WHERE c.kind = 'material' AND NOT EXISTS (SELECT 1 FROM sale s WHERE s.charge_id = c.id)
          UNION ALL
          SELECT format('sale %s: charge %s is of kind %s', s.id, c.id, c.kind) FROM sale s JOIN charge c ON c.id = s.charge_id
           WHERE c.kind <> 'material'
          UNION ALL
          SELECT format('sale %s: %s is asked and %s was kept for %s', s.id, c.gross_minor - x.credited, s.quantity - x.back, round(x.rate * (s.quantity - x.back)))
            FROM sale s JOIN charge c ON c.id = s.charge_id JOIN material m ON m.id = s.material_id, LATERAL (SELECT
              s.price_minor::numeric / CASE m.unit WHEN 'piece' THEN 1 ELSE 1000 END AS rate,
              (SELECT coalesce(sum(amount_minor), 0) FROM credit WHERE charge_id = c.id) AS credited,
              (SELECT coalesce(sum(quantity), 0) FROM taking_back WHERE sale_id = s.id) AS back) x
           WHERE c.gross_minor - x.credited <> round(x.rate * (s.quantity - x.back))
          UNION ALL
          SELECT format('taking-back %s has credit %s of another charge', t.id, r.id)
            FROM taking_back t JOIN sale s ON s.id = t.sale_id JOIN credit r ON r.id = t.credit_id WHERE r.charge_id <> s.charge_id`,
  },
  {
    name: 'what was drawn for a piece was drawn for its course',
    sql: `SELECT format('stock move %s is for piece %s of course %s, and for course %s', d.stock_move_id, p.code, p.course_id, c.course_id) AS fault
            FROM piece_draw d JOIN piece p ON p.id = d.piece_id LEFT JOIN course_draw c ON c.stock_move_id = d.stock_move_id
           WHERE p.course_id IS DISTINCT FROM c.course_id`,
  },
  {
    name: 'no more comes back from a course than it drew, and none of it dearer',
    sql: `SELECT format('course %s drew %s of material %s worth %s, and gave %s worth %s back', b.course_id, d.quantity, b.material_id, d.worth, b.quantity, b.worth) AS fault
            FROM (SELECT r.course_id, l.material_id, sum(l.quantity) AS quantity, sum(l.cost_minor) AS worth
                    FROM course_reclaim r JOIN lot l ON l.id = r.lot_id GROUP BY r.course_id, l.material_id) b,
            LATERAL (SELECT coalesce(-sum(m.quantity), 0) AS quantity, coalesce(-sum(m.cost_minor), 0) AS worth
                       FROM course_draw c JOIN stock_move m ON m.id = c.stock_move_id
                      WHERE c.course_id = b.course_id AND m.material_id = b.material_id) d
           WHERE b.quantity > d.quantity OR b.worth > d.worth`,
  },
  {
    name: 'mixes are nested at most once',
    sql: `WITH latest AS (SELECT DISTINCT ON (mix_id) id, mix_id FROM mix_version ORDER BY mix_id, number DESC),
               inside AS (SELECT l.mix_id AS outer_id, m.id AS inner_id
                            FROM latest l JOIN mix_part p ON p.version_id = l.id JOIN mix m ON m.product_id = p.material_id)
          SELECT format('mix %s holds mix %s, which holds another', a.outer_id, a.inner_id) AS fault
            FROM inside a JOIN inside b ON b.outer_id = a.inner_id`,
  },
  {
    name: 'a carriage bill is shared among the lots that came with it',
    sql: `SELECT format('carriage bill %s is off by %s', b.id, b.amount_minor - coalesce(sum(s.amount_minor), 0)) AS fault
            FROM carriage_bill b LEFT JOIN carriage_share s ON s.bill_id = b.id GROUP BY b.id
          HAVING b.amount_minor <> coalesce(sum(s.amount_minor), 0)
          UNION ALL
          SELECT format('carriage bill %s is on lot %s, which came otherwise', b.id, l.id)
            FROM carriage_bill b JOIN carriage_share s ON s.bill_id = b.id JOIN lot l ON l.id = s.lot_id
           WHERE l.consignment_id IS DISTINCT FROM b.consignment_id`,
  },
  {
    name: 'what arrived of an order had been placed',
    sql: `SELECT format('consignment %s arrived of order %s, which was never placed', c.id, c.order_id) AS fault
            FROM consignment c WHERE c.order_id IS NOT NULL
             AND NOT EXISTS (SELECT 1 FROM supply_order_event e WHERE e.order_id = c.order_id AND e.kind = 'placed')`,
  },
  {
    name: 'nobody worked less than nothing for a course',
    sql: `SELECT format('course %s: %s minutes of %s', course_id, sum(minutes), what) AS fault
            FROM course_hours GROUP BY course_id, what, staff_member_id HAVING sum(minutes) < 0`,
  },
  {
    name: 'nobody who was removed has a way in, and an owner has',
    sql: `SELECT format('staff member %s was removed and has a session, a token or a link', m.id) AS fault FROM staff_member m
           WHERE m.removed_at IS NOT NULL AND (
             EXISTS (SELECT FROM sign_in s WHERE s.staff_member_id = m.id)
             OR EXISTS (SELECT FROM api_token t WHERE t.staff_member_id = m.id AND t.revoked_at IS NULL)
             OR EXISTS (SELECT FROM staff_link l WHERE l.staff_member_id = m.id AND l.used_at IS NULL AND l.ended_at IS NULL))
          UNION ALL
          SELECT format('staff member %s works here, and no owner can sign in', min(id::text)) FROM staff_member
           WHERE removed_at IS NULL HAVING count(*) > 0
             AND count(*) FILTER (WHERE role = 'owner' AND password_hash IS NOT NULL) = 0`,
  },
  ...WARE_RULES,
];

/** Looks through the whole database for broken rules. @returns one sentence per fault; empty where all is well */
export async function findBrokenRules(db: Transaction): Promise<string[]> {
  const faults: string[] = [];
  for (const { name, sql } of RULES) {
    const rows = await db.$queryRawUnsafe<{ fault: string }[]>(sql);
    faults.push(...rows.map(({ fault }) => `${name}: ${fault}`));
  }
  return faults;
}

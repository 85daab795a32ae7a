import type pg from 'pg';

// A studio of ten years, made of the demo's year: what is over and settled in it is copied many times, each copy shifted back by whole
// weeks. It is filled past the triggers, and `check` judges it.

/** How often the courses are copied, and how many times over people book on each copy. */
export type Copies = { courses: number; layers: number };
const TEN_YEARS: Copies = { courses: 90, layers: 3 };

type Column = { table: string; name: string; type: string; refers: string | null };
type Own = Record<string, string>;

/** Copied row by row, whose ids are shifted wherever another table names them. */
const COPIED = new Set([
  ...['person', 'course', 'session', 'course_hours', 'price_quote', 'journal_entry', 'posting'],
  ...['charge', 'charge_part', 'instalment', 'supply', 'credit', 'payment', 'allocation', 'receipt', 'credit_note'],
  ...['document', 'notice', 'delivery', 'announced_piece', 'booking', 'booking_notice', 'place', 'piece'],
  ...['piece_glaze', 'piece_event', 'firing', 'reading', 'placement', 'share', 'firing_charge', 'lot', 'stock_move'],
  ...['course_draw'],
]);
/** Of courses and firings there is one copy for all layers. */
const SHIFT: Record<string, string> = { course: 'course_ms', session: 'course_ms', firing: 'firing_ms' };
const shifted = (column: string, table: string) => `pg_temp.shifted(${column}, k.${SHIFT[table] ?? 'ms'})`;
const ofNone = (column: string, shift: string) =>
  `CASE WHEN t.${column} IS NULL THEN NULL ELSE pg_temp.shifted(t.${column}, k.${shift}) END`;

/** Fills the demo's database with nine years more, or with fewer copies of its year. Needs a superuser, and a minute. */
export async function growToTenYears(db: pg.Client, copies = TEN_YEARS): Promise<void> {
  await db.query(`SET session_replication_role = 'replica'; SET synchronous_commit = off; SET work_mem = '256MB';
                  SET jit = off; SET timezone = 'UTC'; BEGIN`);
  await chooseWhatIsOver(db, copies);
  const copy = await copier(db);
  await copyCourses(db, copy, copies);
  await copyMoney(db, copy);
  await copyWare(db, copy);
  await copyShelf(db, copy);
  await db.query(`COMMIT; SET session_replication_role = 'origin'`);
  await db.query('VACUUM ANALYZE');
}

const SHIFTED_ID = `
  CREATE FUNCTION pg_temp.shifted(id uuid, ms bigint) RETURNS uuid LANGUAGE sql IMMUTABLE AS $$
    SELECT (lpad(to_hex(('x' || lpad(substr(replace($1::text, '-', ''), 1, 12), 16, '0'))::bit(64)::bigint - $2), 12, '0')
            || substr(replace($1::text, '-', ''), 13))::uuid $$`;

/** The copies, and of the demo's year what is over, settled and paid without a voucher. */
async function chooseWhatIsOver(db: pg.Client, { courses, layers }: Copies): Promise<void> {
  await db.query(`
    ${SHIFTED_ID};
    CREATE TEMP TABLE k AS
      SELECT c * ${layers} + l AS k, c, l, (364 + 7 * floor(c * 468.0 / ${courses}))::int AS days,
             ((c + 1) * 3600000::bigint) + (${layers} - l) * 900000::bigint AS ms,
             ((c + 1) * 3600000::bigint) + ${layers} * 900000::bigint AS course_ms,
             ((c - c % 3 + 1) * 3600000::bigint) + ${layers} * 900000::bigint AS firing_ms, (c % 3 = 0 AND l = 0) AS fires
        FROM generate_series(0, ${courses} - 1) c, generate_series(0, ${layers} - 1) l;
    CREATE TEMP TABLE courses AS SELECT id FROM course WHERE completed_on IS NOT NULL
      AND NOT EXISTS (SELECT 1 FROM course_concession WHERE course_id = course.id);
    CREATE TEMP TABLE charges AS SELECT ch.id, ch.kind, ch.entry_id FROM charge ch
      WHERE ch.gross_minor = coalesce((SELECT sum(amount_minor) FROM credit WHERE charge_id = ch.id), 0)
                           + coalesce((SELECT sum(amount_minor) FROM allocation WHERE charge_id = ch.id), 0)
        AND ch.kind NOT IN ('material', 'membership')
        AND (ch.kind <> 'course' OR EXISTS (
              SELECT 1 FROM booking b WHERE b.charge_id = ch.id AND b.course_id IN (SELECT id FROM courses)))
        AND (NOT ch.in_advance OR EXISTS (SELECT 1 FROM supply WHERE charge_id = ch.id))
        AND NOT EXISTS (SELECT 1 FROM given_up g JOIN booking b ON b.id = g.booking_id WHERE b.charge_id = ch.id)
        AND NOT EXISTS (SELECT 1 FROM allocation a JOIN payment p ON p.id = a.payment_id
                         WHERE a.charge_id = ch.id AND p.method = 'voucher');`);
  for (
    let i = 0;
    i < 3;
    i++ // payments for several charges go only with all of them
  )
    await db.query(`DELETE FROM charges WHERE id IN (SELECT a.charge_id FROM allocation a WHERE a.payment_id IN (
      SELECT payment_id FROM allocation WHERE charge_id NOT IN (SELECT id FROM charges)))`);
  await db.query(`
    CREATE TEMP TABLE payments AS SELECT id, entry_id FROM payment
      WHERE id IN (SELECT payment_id FROM allocation WHERE charge_id IN (SELECT id FROM charges));
    CREATE TEMP TABLE entries AS
      SELECT entry_id AS id FROM charges UNION SELECT entry_id FROM payments
      UNION SELECT entry_id FROM supply WHERE charge_id IN (SELECT id FROM charges) AND entry_id IS NOT NULL
      UNION SELECT entry_id FROM credit WHERE charge_id IN (SELECT id FROM charges);
    CREATE TEMP TABLE documents AS
      SELECT document_id AS id FROM receipt WHERE payment_id IN (SELECT id FROM payments)
      UNION SELECT document_id FROM credit_note WHERE credit_id IN (SELECT id FROM credit WHERE charge_id IN (SELECT id FROM charges))
      UNION SELECT document_id FROM notice WHERE occasion = 'collection' AND document_id IS NOT NULL;
    CREATE TEMP TABLE notices AS SELECT id FROM notice WHERE document_id IN (SELECT id FROM documents) OR id IN (
      SELECT n.notice_id FROM booking_notice n JOIN booking b ON b.id = n.booking_id WHERE b.charge_id IN (SELECT id FROM charges));
    CREATE TEMP TABLE pieces AS SELECT id FROM piece WHERE stage IN ('collected', 'broken')
      AND (course_id IS NULL OR course_id IN (SELECT id FROM courses))
      AND NOT EXISTS (SELECT 1 FROM placement p JOIN firing f ON f.id = p.firing_id
                       WHERE p.piece_id = piece.id AND f.state NOT IN ('settled', 'failed'));
    CREATE TEMP TABLE firings AS SELECT id FROM firing WHERE state IN ('settled', 'failed');
    CREATE TEMP TABLE moves AS SELECT m.id, m.lot_id FROM stock_move m JOIN lot ON lot.id = m.lot_id
      WHERE m.kind IN ('received', 'drawn', 'wasted') AND lot.supplier IS NOT NULL
        AND NOT EXISTS (SELECT 1 FROM mix_batch b WHERE b.lot_id = lot.id)
        AND NOT EXISTS (SELECT 1 FROM mix_draw d WHERE d.move_id = m.id)
        AND NOT EXISTS (SELECT 1 FROM course_draw d WHERE d.stock_move_id = m.id AND d.course_id NOT IN (SELECT id FROM courses))
        AND NOT EXISTS (SELECT 1 FROM carriage_share s WHERE s.lot_id = lot.id);
    CREATE TEMP TABLE lots AS SELECT DISTINCT lot_id AS id FROM moves
      WHERE lot_id IN (SELECT lot_id FROM stock_move WHERE kind = 'received');
    DELETE FROM moves WHERE lot_id NOT IN (SELECT id FROM lots)`);
}

type Copy = (table: string, where: string, own?: Own, which?: string) => Promise<void>;

/** Copies rows of a table for each copy `k`: ids and references shifted, days and moments moved back, `own` columns as it says. */
async function copier(db: pg.Client): Promise<Copy> {
  const { rows } = await db.query<Column>(`
    SELECT c.relname AS table, a.attname AS name, format_type(a.atttypid, NULL) AS type,
           (SELECT f.relname FROM pg_constraint x JOIN pg_class f ON f.oid = x.confrelid
             WHERE x.contype = 'f' AND x.conrelid = c.oid AND a.attnum = x.conkey[1] AND cardinality(x.conkey) = 1 LIMIT 1) AS refers
      FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped AND a.attgenerated = ''
     WHERE c.relkind = 'r' AND c.relnamespace = 'public'::regnamespace ORDER BY c.relname, a.attnum`);
  return async (table, where, own = {}, which = 'true') => {
    const columns = rows.filter((column) => column.table === table);
    const values = columns.map(({ name, type, refers }) => {
      if (own[name]) return own[name];
      if (type === 'uuid' && name === 'id') return shifted('t.id', table);
      if (type === 'uuid' && refers && COPIED.has(refers)) return shifted(`t.${name}`, refers);
      if (type === 'date') return `t.${name} - k.days`;
      if (type.startsWith('timestamp')) return `t.${name} - k.days * interval '1 day'`;
      return `t.${name}`;
    });
    const names = columns.map(({ name }) => `"${name}"`).join(', ');
    await db.query(
      `INSERT INTO ${table} (${names}) SELECT ${values.join(', ')} FROM ${table} t, k WHERE (${which}) AND (${where})`,
    );
  };
}

async function copyCourses(db: pg.Client, copy: Copy, { layers }: Copies): Promise<void> {
  const once = 'k.l = 0'; // whatever books on it
  const over = 't.course_id IN (SELECT id FROM courses)';
  await copy('person', 'true', {
    name: `t.name || ' ' || k.k`,
    email: `CASE WHEN t.email IS NULL THEN NULL ELSE 'k' || k.k || '-' || t.email END`,
  });
  const changed = { places: `least(200, t.places * ${layers})`, enrolment_noted: 'false' }; // more have booked: it is noted anew
  await copy('course', 't.id IN (SELECT id FROM courses)', changed, once);
  for (const table of ['session', 'course_hours', 'price_quote']) await copy(table, over, {}, once);
  await db.query('UPDATE room SET benches = 200');
}

async function copyMoney(db: pg.Client, copy: Copy): Promise<void> {
  const charged = 't.charge_id IN (SELECT id FROM charges)';
  await copy('journal_entry', 't.id IN (SELECT id FROM entries)', { corrects_id: ofNone('corrects_id', 'ms') });
  await copy('posting', 't.entry_id IN (SELECT id FROM entries)', { person_id: ofNone('person_id', 'ms') });
  await copy('charge', 't.id IN (SELECT id FROM charges)');
  for (const table of ['charge_part', 'instalment', 'supply', 'credit', 'allocation']) await copy(table, charged);
  await copy('payment', 't.id IN (SELECT id FROM payments)');
  await copy('document', 't.id IN (SELECT id FROM documents)', {
    file_name: `replace(t.file_name, '.pdf', '-k' || k.k || '.pdf')`,
    content: EARLIER_TAX_POINTS,
  });
  await numberOn(db, 'receipt', 'payment_id', 't.payment_id IN (SELECT id FROM payments)');
  await numberOn(
    db,
    'credit_note',
    'credit_id',
    't.credit_id IN (SELECT id FROM credit WHERE charge_id IN (SELECT id FROM charges))',
  );
  await copy('notice', 't.id IN (SELECT id FROM notices)', {
    message_id: `'<' || pg_temp.shifted(t.id, k.ms) || '@wareboard>'`,
    document_id: ofNone('document_id', 'ms'),
  });
  await copy('delivery', 't.notice_id IN (SELECT id FROM notices)');
  await copy('booking', charged);
  const booked = 't.booking_id IN (SELECT id FROM booking WHERE charge_id IN (SELECT id FROM charges))';
  await copy('place', booked);
  await copy('booking_notice', `${booked} AND t.notice_id IN (SELECT id FROM notices)`);
}

/** What a copied paper says of when VAT was due is as much earlier as its payment. */
const EARLIER_TAX_POINTS = `CASE WHEN t.kind IN ('receipt', 'creditNote') THEN jsonb_set(t.content, '{lines}', (
  SELECT jsonb_agg(CASE WHEN line ->> 'taxPoint' IS NULL THEN line
                        ELSE line || jsonb_build_object('taxPoint', ((line ->> 'taxPoint')::date - k.days)::text) END ORDER BY n)
    FROM jsonb_array_elements(t.content -> 'lines') WITH ORDINALITY AS printed (line, n))) ELSE t.content END`;

/** Numbers copied papers on after the last, without a gap. */
async function numberOn(db: pg.Client, table: string, of: string, where: string): Promise<void> {
  await db.query(`
    INSERT INTO ${table} (series, number, ${of}, document_id)
    SELECT t.series, last.number + row_number() OVER (PARTITION BY t.series ORDER BY k.c DESC, k.l, t.number),
           pg_temp.shifted(t.${of}, k.ms), pg_temp.shifted(t.document_id, k.ms)
      FROM ${table} t JOIN (SELECT series, max(number) AS number FROM ${table} GROUP BY series) last ON last.series = t.series, k
     WHERE ${where}`);
  await db.query(`UPDATE number_series s SET last_number = greatest(last_number, coalesce(
                    (SELECT max(number) FROM ${table} WHERE series = s.series), 0))`);
}

async function copyWare(db: pg.Client, copy: Copy): Promise<void> {
  const made = 't.piece_id IN (SELECT id FROM pieces)';
  const fired = `${made} AND t.firing_id IN (SELECT id FROM firings)`;
  await copy('piece', 't.id IN (SELECT id FROM pieces)', {
    code: `t.code || '-' || k.k`,
    serial: 't.serial + 1000 * (k.k + 1)',
    course_id: ofNone('course_id', 'course_ms'),
  });
  for (const table of ['piece_glaze', 'piece_event']) await copy(table, made);
  await copy('announced_piece', `${made} AND t.notice_id IN (SELECT id FROM notices)`);
  await copy('firing', 't.id IN (SELECT id FROM firings)', { number: 't.number + 100 * (k.c + 1)' }, 'k.fires');
  await copy('reading', 't.firing_id IN (SELECT id FROM firings)', {}, 'k.fires');
  await copy('placement', fired);
  await copy('share', fired, { amount_minor: 'CASE WHEN k.fires THEN t.amount_minor ELSE 0 END' });
  await db.query(`
    INSERT INTO share (id, firing_id, piece_id, person_id, weight_mm3, amount_minor)
    SELECT gen_random_uuid(), f.id, NULL, NULL, 0, f.energy_minor + f.wear_minor + f.labour_minor
           - coalesce((SELECT sum(amount_minor) FROM share WHERE firing_id = f.id), 0)
      FROM firing f WHERE f.energy_minor IS NOT NULL
       AND NOT EXISTS (SELECT 1 FROM share WHERE firing_id = f.id AND piece_id IS NULL)`); // the studio bears the rest
  await copy('firing_charge', 't.charge_id IN (SELECT id FROM charges)', {}, 'k.fires');
  await db.query(`UPDATE tariff SET valid_from = '2010-01-01' WHERE valid_from = (SELECT min(valid_from) FROM tariff)`);
}

async function copyShelf(db: pg.Client, copy: Copy): Promise<void> {
  await copy('lot', 't.id IN (SELECT id FROM lots)', { consignment_id: 'NULL' });
  await copy('stock_move', 't.id IN (SELECT id FROM moves)', { lot_id: shifted('t.lot_id', 'lot') });
  await copy('course_draw', 't.stock_move_id IN (SELECT id FROM moves)', {
    session_id: ofNone('session_id', 'course_ms'),
  });
  // what was left of an old lot was thrown away: the shelf holds what the demo's does
  await db.query(`
    INSERT INTO stock_move (id, material_id, lot_id, kind, quantity, cost_minor, at, note)
    SELECT pg_temp.shifted(lot.id, -3600000), lot.material_id, lot.id, 'wasted', -sum(m.quantity), -sum(m.cost_minor),
           lot.created_at + interval '300 days', 'Old'
      FROM lot JOIN stock_move m ON m.lot_id = lot.id
     WHERE lot.received_on < (SELECT min(received_on) FROM lot JOIN lots ON lots.id = lot.id) GROUP BY lot.id HAVING sum(m.quantity) > 0`);
  await db.query(`
    UPDATE lot SET left_quantity = m.quantity, left_minor = m.minor
      FROM (SELECT lot_id, sum(quantity) AS quantity, sum(cost_minor) AS minor FROM stock_move GROUP BY lot_id) m
     WHERE m.lot_id = lot.id`);
}

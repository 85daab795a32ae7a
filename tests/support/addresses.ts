import type pg from 'pg';

/** Ids by the name of the parameter that they fill; null where the studio has none of a kind. */
export type Ids = Record<string, string | null>;

const SOME: Record<string, string> = {
  coming: `SELECT c.id FROM course c JOIN course_plan p ON p.id = c.plan_id WHERE c.completed_on IS NULL AND p.kind = 'course'
            ORDER BY (SELECT count(*) FROM booking b WHERE b.course_id = c.id) DESC, c.id LIMIT 1`,
  over: `SELECT c.id FROM course c WHERE c.completed_on IS NOT NULL
          ORDER BY (SELECT count(*) FROM course_draw b WHERE b.course_id = c.id) DESC, c.id DESC LIMIT 1`,
  planId: 'SELECT plan_id FROM course GROUP BY plan_id ORDER BY count(*) DESC, plan_id LIMIT 1',
  personId: 'SELECT person_id FROM charge GROUP BY 1 ORDER BY count(*) DESC, 1 LIMIT 1',
  documentId: "SELECT id FROM document WHERE kind = 'receipt' ORDER BY id DESC LIMIT 1",
  voucherId: 'SELECT id FROM voucher LIMIT 1',
  materialId: 'SELECT material_id FROM stock_move GROUP BY 1 ORDER BY count(*) DESC, 1 LIMIT 1',
  supplierId: 'SELECT id FROM supplier LIMIT 1',
  consignmentId: 'SELECT id FROM consignment LIMIT 1',
  saleId: 'SELECT id FROM sale LIMIT 1',
  kilnId: 'SELECT id FROM kiln LIMIT 1',
  roomId: 'SELECT id FROM room LIMIT 1',
  closureId: 'SELECT id FROM closure LIMIT 1',
  scheduleId: 'SELECT id FROM schedule LIMIT 1',
  tariffId: 'SELECT id FROM tariff LIMIT 1',
  taxRateId: 'SELECT id FROM tax_rate LIMIT 1',
  refundPolicyId: 'SELECT id FROM refund_policy LIMIT 1',
  mixId: `SELECT mix_id FROM mix_version v WHERE EXISTS (SELECT 1 FROM mix_batch b WHERE b.version_id = v.id) LIMIT 1`,
  batchId: 'SELECT id FROM mix_batch LIMIT 1',
  tileId: 'SELECT id FROM test_tile LIMIT 1',
  id: 'SELECT piece_id FROM piece_event GROUP BY 1 ORDER BY count(*) DESC, 1 LIMIT 1',
  code: `SELECT code FROM piece WHERE code !~ '-' ORDER BY serial DESC LIMIT 1`,
  firingId: `SELECT firing_id FROM placement p JOIN firing f ON f.id = p.firing_id WHERE f.state = 'settled'
              GROUP BY 1 ORDER BY count(*), 1 LIMIT 1`,
  orderId: 'SELECT id FROM supply_order LIMIT 1',
  lastReceipt: 'SELECT max(number) - 50 FROM receipt',
  makerId: 'SELECT maker_id FROM piece GROUP BY 1 ORDER BY count(*) DESC, 1 LIMIT 1',
  boardId: 'SELECT board_id FROM piece WHERE board_id IS NOT NULL GROUP BY 1 ORDER BY count(*) DESC, 1 LIMIT 1',
  bookingId: 'SELECT id FROM booking ORDER BY id DESC LIMIT 1',
  membershipId: 'SELECT membership_id FROM membership_month GROUP BY 1 ORDER BY count(*) DESC, 1 LIMIT 1',
  membershipKindId: 'SELECT id FROM membership_kind LIMIT 1',
  memberId: 'SELECT id FROM staff_member LIMIT 1',
  sessionId: 'SELECT id FROM session ORDER BY starts_at DESC, id LIMIT 1',
};

export async function idsOf(db: pg.Client): Promise<Ids> {
  const ids: Ids = {};
  for (const [name, sql] of Object.entries(SOME)) {
    const { rows } = await db.query<Record<string, string | number>>(sql);
    const [value] = Object.values(rows[0] ?? {});
    ids[name] = value === undefined || value === null ? null : String(value);
  }
  return ids;
}

/** Questions that people ask of lists, besides their first page. */
const QUESTIONS: Record<string, string[]> = {
  '/api/people': ['?q=an', '?q=zzzz'],
  '/api/doubles': ['?personId={personId}'],
  '/api/search': ['?q=an', '?q=zzzz'],
  '/api/receipts': ['?afterNumber={lastReceipt}'],
  '/api/notices': ['?personId={personId}'],
  '/api/pieces': ['?stage=ready', '?makerId={makerId}', '?boardId={boardId}', '?order=waiting'],
  '/api/firings': ['?state=planned', '?state=settled'],
  '/api/test-tiles': ['?search=moss'],
  '/api/debtors': ['?personId={personId}'],
  '/api/mixes/{mixId}/batch-sheet.pdf': ['?makeGrams=1000'],
};
const NEEDS_A_QUESTION = ['/api/search', '/api/mixes/{mixId}/batch-sheet.pdf'];

/** Every address that the API's own document says can be read; a course's, of one that is to come and of one that is over. */
export function addressesOf(paths: Record<string, object>): string[] {
  return Object.entries(paths)
    .filter(([, methods]) => 'get' in methods)
    .flatMap(([path]) => {
      if (path.includes('{courseId}')) return ['{coming}', '{over}'].map((id) => path.replace('{courseId}', id));
      const questions = (QUESTIONS[path] ?? []).map((question) => path + question);
      return NEEDS_A_QUESTION.includes(path) ? questions : [path, ...questions];
    });
}

/** An address with its ids; null where there is none of a kind. */
export function filled(address: string, ids: Ids): string | null {
  const names = [...address.matchAll(/\{(\w+)\}/g)].map(([, name = '']) => name);
  if (names.some((name) => (ids[name] ?? null) === null)) return null;
  return address.replace(/\{(\w+)\}/g, (_, name: string) => encodeURIComponent(ids[name] ?? ''));
}

import { afterAll, beforeAll, expect, test } from 'vitest';
import { type OpenDatabase, openDatabase } from '../../../src/database/client.js';
import type { Transaction } from '../../../src/database/transaction.js';
import { listCharges, listPapers, listPayments } from '../../../src/studio/accounts/list/lists.js';
import { ChargeQuery, PaperQuery, PaymentQuery } from '../../../src/studio/accounts/list-contract.js';
import { BookingQuery } from '../../../src/studio/bookings/contract.js';
import { listBookings } from '../../../src/studio/bookings/read-bookings.js';
import { CourseQuery } from '../../../src/studio/courses/contract.js';
import { listCourses } from '../../../src/studio/courses/list.js';
import { FiringQuery } from '../../../src/studio/firings/contract.js';
import { listFirings } from '../../../src/studio/firings/to-api.js';
import { NoticeQuery } from '../../../src/studio/notices/contract.js';
import { listNotices } from '../../../src/studio/notices/service.js';
import { PersonQuery } from '../../../src/studio/people/contract.js';
import { listPeople } from '../../../src/studio/people/service.js';
import { PieceQuery } from '../../../src/studio/ware/contract.js';
import { listPieces } from '../../../src/studio/ware/pieces.js';
import { cloneTemplate } from '../../support/database.js';
import { explaining } from '../../support/explain.js';
import { STUDIO } from '../../support/fixtures.js';
import { fillWithMany, idOf } from '../../support/many.js';

// Not testDatabase(): these rows are many and no studio's, so the rules that hold of one are not looked at here.
const url = await cloneTemplate();
let open: OpenDatabase;
beforeAll(async () => {
  await fillWithMany(url);
  open = await openDatabase(url);
  await open.db.studio.create({ data: { id: 1, ...STUDIO, emptySpace: 'studio', firingTaxRateId: idOf('22', 1) } });
});
afterAll(() => open.close());

const NOW = new Date('2026-03-10T09:00:00Z');
const PERSON = idOf('01', 7_000);
/** Stands for the name of that person, one of a few who are called so. */
const NAME = 'their name';
const COURSE = idOf('02', 2_400);
type Found = { items: unknown[]; total: number; totalIsMinimum: boolean };
type List = (tx: Transaction, query: object) => Promise<Found>;
const LISTS: Record<string, List> = {
  people: (tx, query) => listPeople(tx, NOW, PersonQuery.parse(query)),
  courses: (tx, query) => listCourses(tx, NOW, CourseQuery.parse(query)),
  bookings: (tx, query) => listBookings(tx, BookingQuery.parse(query)),
  pieces: (tx, query) => listPieces(tx, PieceQuery.parse(query)),
  firings: (tx, query) => listFirings(tx, NOW, FiringQuery.parse(query)),
  papers: (tx, query) => listPapers(tx, PaperQuery.parse(query)),
  notices: (tx, query) => listNotices(tx, NoticeQuery.parse(query)),
  payments: (tx, query) => listPayments(tx, PaymentQuery.parse(query)),
  charges: (tx, query) => listCharges(tx, ChargeQuery.parse(query)),
};
/** Of courses and firings there are a few thousand in a studio's life, of plans and kilns a handful. */
const GROWS = [
  'person',
  'place',
  'booking',
  'piece',
  'piece_event',
  'charge',
  'allocation',
  'credit',
  'payment',
  'receipt',
  'document',
  'notice',
  'delivery',
  'session',
];
/** What a query may look at that has few answers; all of a table is ten to eighty times as much. */
const READ_MAX = 4_000;

const FEW: [string, object, number][] = [
  ['people', { q: 'zorh' }, 50],
  ['people', { q: NAME }, 1],
  ['people', { q: 'p4321@' }, 1],
  ['people', { q: '07700 004321' }, 1],
  ['people', { q: 'xyzzy' }, 0],
  ['people', { order: 'name' }, 50],
  ['people', { kind: 'member', order: 'name' }, 50],
  ['courses', { from: '2026-03-10', order: 'firstDay' }, 1],
  ['courses', { from: '2025-03-01', to: '2025-03-07', order: 'firstDay' }, 1],
  ['courses', { state: 'over' }, 0],
  ['courses', { q: 'bowls 2001' }, 0],
  ['courses', { order: 'firstDayLast' }, 50],
  ['bookings', {}, 50],
  ['bookings', { q: NAME }, 1],
  ['bookings', { state: 'provisional' }, 50],
  ['bookings', { state: 'cancelled' }, 50],
  ['bookings', { personId: PERSON }, 1],
  ['bookings', { courseId: COURSE }, 1],
  ['bookings', { from: '2024-01-01', to: '2024-01-07' }, 1],
  ['pieces', { order: 'newest' }, 50],
  ['pieces', { q: NAME }, 1],
  ['pieces', { is: 'here', order: 'waiting' }, 50],
  ['pieces', { waitingSince: '2024-12-01', stage: 'bisque' }, 0],
  ['pieces', { stage: 'ready', order: 'newest' }, 50],
  ['pieces', { courseId: COURSE, q: 'plate' }, 1],
  ['pieces', { makerId: PERSON }, 1],
  ['firings', { state: 'planned' }, 3],
  ['firings', { q: '777' }, 1],
  ['firings', { order: 'newest', kind: 'bisque' }, 50],
  ['papers', {}, 50],
  ['papers', { q: 'R-004321' }, 1],
  ['papers', { q: NAME }, 1],
  ['papers', { personId: PERSON, kind: 'receipt' }, 1],
  ['notices', { state: 'failed', order: 'newest' }, 20],
  ['notices', { state: 'waiting' }, 0],
  ['notices', { q: NAME }, 1],
  ['payments', { personId: PERSON }, 1],
  ['payments', { q: NAME, method: 'card' }, 1],
  ['charges', { state: 'open' }, 50],
  ['charges', { q: NAME }, 1],
];

async function named(query: object): Promise<object> {
  const { name } = await open.db.person.findUniqueOrThrow({ where: { id: PERSON } });
  return 'q' in query && query.q === NAME ? { ...query, q: name } : query;
}

test.each(FEW)('%s %j: no table that grows is read through', async (list, query, atLeast) => {
  const { tx, readings } = explaining(open.db);
  const found = await (LISTS[list] as List)(tx, await named(query));
  expect(found.items.length).toBeGreaterThanOrEqual(atLeast);
  expect(found.total).toBeGreaterThanOrEqual(found.items.length);
  const growing = readings.filter(({ table }) => GROWS.includes(table));
  expect(growing.filter(({ rows }) => rows > READ_MAX)).toEqual([]);
});

test('what has many answers is found too, and says that there are more than were counted', async () => {
  for (const [list, query] of [
    ['people', { q: 'li' }],
    ['pieces', { q: 'mug' }],
    ['bookings', { q: 'evening' }],
  ] as const) {
    const { items, total, totalIsMinimum } = await (LISTS[list] as List)(open.db, query);
    expect([items.length, total, totalIsMinimum]).toEqual([50, 1000, true]);
  }
});

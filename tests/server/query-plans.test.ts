import type pg from 'pg';
import { expect, test } from 'vitest';
import { withClient } from '../../src/database/client.js';
import { inTransaction } from '../../src/database/transaction.js';
import { noteEnrolments } from '../../src/studio/pricing/queries.js';
import { addressesOf, filled, idsOf } from '../support/addresses.js';
import { testApp } from '../support/app.js';
import { cloneDemo, SEEDED } from '../support/demo.js';
import { type Statement, statementsOf } from '../support/statements.js';
import { growToTenYears } from '../support/ten-years.js';

// How the database reads its tables for every address of the API, in a studio of some years: by an index, wherever a table grows with
// each course, piece and payment.

/** As many as a studio has things and people who work there; all other tables grow. */
const SMALL = new Set([
  'firing', // some hundred a year
  ...[
    'account',
    'api_token',
    'assumption',
    'board',
    'closure',
    'kiln',
    'kiln_wear',
    'logo',
    'material',
    'material_pack',
    'mix',
  ],
  ...['mix_part', 'mix_version', 'number_series', 'refund_policy', 'refund_tier', 'room', 'schedule', 'segment'],
  ...[
    'selling_price',
    'staff_link',
    'staff_member',
    'studio',
    'supplier',
    'tariff',
    'tariff_band',
    'tax_rate',
    'web_page',
  ],
  ...['course_plan', 'plan_concession', 'plan_firing', 'plan_material', 'plan_part', 'plan_piece', 'plan_session'],
]);
/** Hardly filled here, so that reading them whole is the quicker way; each has an index for ten years. */
const FEW_HERE_MAX = 1000;

/** What reads a whole table, or which table is read so, and why it may. */
const MAY_READ_ALL: Record<string, string> = {
  '/api/account-balances posting': 'the bookkeeper adds up every posting a few times a year',
  course_enrolment: 'a price learns from every course that has begun, of which a short row is kept',
};

/** Enough that a page of a list, or the latest of a plan's courses, is a small part of all. */
const copies = { courses: 40, layers: 1 };
const url = await cloneDemo();
await withClient(url, (client) => growToTenYears(client, copies));
const { app, db, owner } = await testApp({ clone: async () => url });
await inTransaction(db, (tx) => noteEnrolments(tx, new Date(SEEDED)));
await db.webPage.create({ data: { id: 1, isOn: true, namesTutors: true, takesRequests: true } }); // or nothing is read for it
await db.$executeRaw`ANALYZE`; // as the server does by itself after a while
await app.ready();
const ids = await withClient(url, idsOf);
const rowsOf = new Map(
  (
    await withClient(url, (client) =>
      client.query<{ name: string; rows: number }>(
        "SELECT relname AS name, reltuples::integer AS rows FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace",
      ),
    )
  ).rows.map(({ name, rows }) => [name, rows]),
);
const grows = (table: string) => !SMALL.has(table) && (rowsOf.get(table) ?? 0) > FEW_HERE_MAX;

type Node = { 'Node Type': string; 'Relation Name'?: string; Filter?: string; Plans?: Node[] };

async function tablesReadWhole(client: pg.Client, { text, values }: Statement): Promise<string[]> {
  const { rows } = await client.query<{ 'QUERY PLAN': { Plan: Node }[] }>(`EXPLAIN (FORMAT JSON) ${text}`, values);
  const found: string[] = [];
  const look = ({ Plans = [], ...node }: Node, above: string) => {
    const isEnded = above === 'Limit' && node.Filter === undefined; // so many rows are counted, and no more
    if (node['Node Type'] === 'Seq Scan' && !isEnded) found.push(node['Relation Name'] ?? '');
    for (const plan of Plans) look(plan, node['Node Type']);
  };
  for (const { Plan } of rows[0]?.['QUERY PLAN'] ?? []) look(Plan, '');
  return found;
}

async function wholeReads(statements: readonly Statement[]): Promise<{ table: string; text: string }[]> {
  return withClient(url, async (client) => {
    const found = [];
    for (const statement of statements)
      for (const table of await tablesReadWhole(client, statement))
        if (grows(table)) found.push({ table, text: statement.text.replace(/\s+/g, ' ') });
    return found;
  });
}

test('the studio is large enough to tell', () => {
  for (const table of ['piece', 'piece_event', 'posting', 'charge', 'booking', 'person', 'stock_move', 'placement'])
    expect(grows(table), table).toBe(true);
});

test('a table that is read whole is seen', async () => {
  const text = 'SELECT count(*) FROM piece WHERE description = $1';
  expect(await wholeReads([{ text, values: ['no'] }])).toEqual([{ table: 'piece', text }]);
});

test('no address reads a table whole that grows', async () => {
  const complaints: string[] = [];
  const paths = app.swagger().paths as Record<string, object>;
  for (const address of addressesOf(paths)) {
    const filledIn = filled(address, ids);
    if (filledIn === null) continue;
    const asked = await statementsOf(() => owner.get(filledIn));
    for (const { table, text } of await wholeReads(asked.filter((one) => /^\s*(SELECT|WITH)/i.test(one.text))))
      if (!(table in MAY_READ_ALL) && !(`${address} ${table}` in MAY_READ_ALL))
        complaints.push(`${address} reads all of ${table}: ${text}`);
  }
  expect(complaints).toEqual([]);
});

import { expect, test } from 'vitest';
import { withClient } from '../../src/database/client.js';
import { factsOfDatabase } from '../support/catalogue.js';
import { cloneTemplate } from '../support/database.js';
import { factsOfSchema } from '../support/prisma-model.js';

const url = await cloneTemplate();
const schema = await factsOfSchema();

/** Facts of which only one side knows, after this SQL. */
function drift(sql = ''): Promise<{ onlySchema: string[]; onlyDatabase: string[] }> {
  return withClient(url, async (client) => {
    await client.query('BEGIN'); // never committed
    await client.query(sql);
    const database = await factsOfDatabase(client);
    return {
      onlySchema: schema.filter((fact) => !database.includes(fact)),
      onlyDatabase: database.filter((fact) => !schema.includes(fact)),
    };
  });
}

test('schema.prisma and the migrations say the same', async () => {
  expect(await drift()).toEqual({ onlySchema: [], onlyDatabase: [] });
  expect(schema.length).toBeGreaterThan(400);
});

test.each([
  ['a table', 'CREATE TABLE stray (id uuid PRIMARY KEY)', 'stray.id: uuid not null'],
  ['a column', 'ALTER TABLE booking ADD stray text', 'booking.stray: text'],
  ['a missing column', 'ALTER TABLE booking DROP cancelled_because CASCADE', undefined],
  ['a type', 'ALTER TABLE booking ALTER deposit_minor TYPE bigint', 'booking.deposit_minor: bigint not null'],
  [
    'a precision',
    'ALTER TABLE booking ALTER booked_at TYPE timestamptz',
    'booking.booked_at: timestamp with time zone not null',
  ],
  [
    'nullability',
    'ALTER TABLE booking ALTER booked_at DROP NOT NULL',
    'booking.booked_at: timestamp(3) with time zone',
  ],
  [
    'a default',
    'ALTER TABLE booking ALTER booked_at SET DEFAULT now()',
    'booking.booked_at: timestamp(3) with time zone not null with a default',
  ],
  ['a key', 'ALTER TABLE cancelled_place DROP CONSTRAINT cancelled_place_pkey CASCADE', undefined],
  ['uniqueness', 'ALTER TABLE place ADD UNIQUE (booking_id, person_id)', 'place: unique (booking_id, person_id)'],
  ['an index', 'DROP INDEX booking_course_id_id_idx', undefined],
  ['a reference', 'ALTER TABLE place DROP CONSTRAINT place_booking_id_fkey', undefined],
  [
    'what a deletion takes along',
    `ALTER TABLE place DROP CONSTRAINT place_booking_id_fkey, ADD FOREIGN KEY (booking_id) REFERENCES booking ON DELETE CASCADE`,
    'place: (booking_id) refers to booking (id), deleted with it',
  ],
  [
    'a word',
    `ALTER TYPE account_kind RENAME VALUE 'income' TO 'earnings'`,
    'enum account_kind: asset, liability, earnings',
  ],
])('a difference in %s is seen', async (_, sql, fact) => {
  const { onlySchema, onlyDatabase } = await drift(sql);
  if (fact) expect(onlyDatabase).toContain(fact);
  else expect(onlySchema).toHaveLength(1);
});

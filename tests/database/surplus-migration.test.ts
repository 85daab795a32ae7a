import { cp, mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { withClient } from '../../src/database/client.js';
import { MIGRATIONS, migrate } from '../../src/database/migrate.js';
import { makeDatabase } from '../support/database.js';

const LAST_BEFORE = '0030_whole_loads'; // a studio as it was entered then; what came later brings its own defaults
let before: string;
beforeAll(async () => {
  before = await mkdtemp(join(tmpdir(), 'wareboard-before-'));
  for (const name of await readdir(MIGRATIONS))
    if (name <= LAST_BEFORE) await cp(join(MIGRATIONS, name), join(before, name), { recursive: true });
});
afterAll(() => rm(before, { recursive: true }));

const RATE = `'00000000-0000-7000-8000-000000000001'`;
const PLAN = (n: number) => `'00000000-0000-7000-8000-00000000010${n}'`;

/** A studio that wants 60.00 of each course, whatever its length. */
const STUDIO = `
  INSERT INTO tax_rate VALUES (${RATE}, 'Standard', 'standard', 20);
  INSERT INTO studio (id, name, address_lines, currency, locale, time_zone, wage_per_hour_minor, overhead_per_hour_minor,
    pay_floor_per_hour_minor, target_surplus_minor, poor_at_most, price_step_minor, card_percent, card_fixed_minor, offcuts_percent,
    remakes_percent, reclaimed_percent, glaze_waste_percent, enrolment_alpha, enrolment_beta, storage_days, collect_where,
    collect_when, after_storage, how_to_pay, invoice_limit_minor, empty_space, firing_tax_rate_id)
  VALUES (1, 'Alder Lane Pottery', '{"7 Alder Lane"}', 'GBP', 'en-GB', 'Europe/London', 2200, 650, 1200, 6000, 0.1, 500, 1.75, 20, 10,
    15, 8, 12, 7.5, 2.5, 28, '{Here}', '{Now}', 'Gone.', 'By card.', 25000, 'studio', ${RATE});`;
const plan = (n: number, minutes: readonly number[]) => `
  INSERT INTO course_plan (id, name, places, minimum, payments, other_minutes, minutes_per_student, advertising_minor,
    sunk_if_cancelled_minor) VALUES (${PLAN(n)}, 'Plan ${n}', 8, 4, 1, 0, 0, 0, 0);
  ${minutes.map((m, i) => `INSERT INTO plan_session VALUES (${PLAN(n)}, ${i + 1}, 'making', ${m}, 30, 30);`).join('\n')}`;

async function moved(sql: string): Promise<number> {
  const url = await makeDatabase();
  await migrate(url, before);
  return withClient(url, async (client) => {
    await client.query(sql);
    await migrate(url);
    return (await client.query('SELECT surplus_per_hour_minor AS rate FROM studio')).rows[0].rate;
  });
}

test('a studio keeps its surplus for the course that it holds on average', async () => {
  // three evenings and one: ten hours of teaching in two plans, five a plan
  expect(await moved(STUDIO + plan(1, [150, 150, 150]) + plan(2, [150]))).toBe(1200);
});

test('without a plan it is taken to be for an evening of two and a half hours', async () => {
  expect(await moved(STUDIO)).toBe(2400);
});

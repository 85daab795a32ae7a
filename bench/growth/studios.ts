import { existsSync } from 'node:fs';
import { chmod, mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { checkDatabase } from '../../src/commands/check.js';
import { loadDemo } from '../../src/commands/demo/load.js';
import { openDatabase } from '../../src/database/client.js';
import { startEmbedded } from '../../src/database/embedded/server.js';
import { migrate } from '../../src/database/migrate.js';
import { pricingTasks } from '../../src/studio/pricing/jobs.js';
import { growToTenYears } from '../../tests/support/ten-years.js';
import { figure } from '../figures.js';

/** The addresses of two databases, as superuser. */
export type Studios = { oneYear: string; tenYears: string; stop(): Promise<void> };

/** Makes the invented studio as it is after a year, and as it would be after ten, unless they are in `folder` already; then checks both. */
export async function makeStudios(folder?: string): Promise<Studios> {
  const data = folder ?? (await mkdtemp(join(tmpdir(), 'wareboard-growth-')));
  await mkdir(data, { recursive: true });
  await chmod(data, 0o755); // the server of a root runs as another user
  const server = await startEmbedded(join(data, 'database'), console.log);
  const tenYears = server.superuserUrl;
  const oneYear = tenYears.replace(/\/wareboard$/, '/one_year');
  const made = join(data, 'grown');
  if (!existsSync(made)) {
    await within('the demo', () => fillWithDemo(server.url)); // as its owner, whom the tables must belong to
    await within('nine years more', () => grow(tenYears));
    await mkdir(made);
  }
  for (const url of [oneYear, tenYears]) await migrate(url); // where they were made before the last migrations
  for (const url of [oneYear, tenYears]) {
    const seconds = await within('check', () => checkDatabase(url, 'The copies are at fault:'));
    if (url === tenYears) figure('check, ten years', `${seconds.toFixed(1)} s`);
  }
  if (process.exitCode) throw new Error('What such books take would say nothing of sound ones.');
  const stop = async () => {
    await server.stop();
    if (!folder) await rm(data, { recursive: true, force: true });
  };
  return { oneYear, tenYears, stop };
}

async function within(what: string, work: () => Promise<unknown>): Promise<number> {
  const began = performance.now();
  await work();
  const seconds = (performance.now() - began) / 1000;
  console.log(`${what}: ${seconds.toFixed(1)} s`);
  return seconds;
}

async function fillWithDemo(url: string): Promise<void> {
  await migrate(url);
  const { db, close } = await openDatabase(url);
  await loadDemo(db, new Date());
  await pricingTasks(db, () => new Date())['note-enrolments']();
  await close();
}

async function grow(url: string): Promise<void> {
  const elsewhere = new pg.Client({ connectionString: url.replace(/\/wareboard$/, '/postgres') });
  await elsewhere.connect();
  await elsewhere.query('CREATE DATABASE one_year TEMPLATE wareboard');
  await elsewhere.end();
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  await growToTenYears(client);
  await client.end();
  const { db, close } = await openDatabase(url);
  await pricingTasks(db, () => new Date())['note-enrolments']();
  await close();
}

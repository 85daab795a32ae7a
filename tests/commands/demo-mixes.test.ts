import { expect, test } from 'vitest';
import { loadDemo } from '../../src/commands/demo/load.js';
import { findBrokenRules } from '../../src/database/rules.js';
import { testDatabase } from '../support/database.js';

const { db } = await testDatabase();

test('the invented studio mixes glazes and fires tiles', async () => {
  await loadDemo(db, new Date('2026-03-10T09:00:00Z'));
  expect(await findBrokenRules(db)).toEqual([]);
  expect([await db.mix.count(), await db.mixBatch.count(), await db.testTile.count()]).toEqual([2, 3, 4]);
  // nothing had to be taken as found: the seeds hold what the batches draw
  const mixed = await db.mixDraw.findMany({ include: { move: { include: { lot: true } } } });
  expect(mixed.every(({ move }) => move.lot.supplier !== null)).toBe(true);
});

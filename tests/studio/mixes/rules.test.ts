import { beforeAll, expect, test } from 'vitest';
import { openDatabase } from '../../../src/database/client.js';
import { sqlState } from '../../../src/database/sqlstate.js';
import { newId } from '../../../src/http/ids.js';
import { findBrokenRules } from '../../invariants.js';
import { testApp } from '../../support/app.js';
import { lotFixture } from '../../support/fixtures/materials.js';
import { batchFixture, mixFixture, powderFixture } from '../../support/fixtures/mixes.js';
import { studioFixture } from '../../support/fixtures.js';

const { db, url, owner } = await testApp();
beforeAll(() => studioFixture(owner));

/** Writes behind the triggers' back, looks for broken rules, and puts it right again. */
async function broken(spoil: string, mend: string): Promise<string[]> {
  const { db: other, close } = await openDatabase(url, { max: 1 });
  await other.$executeRawUnsafe('SET session_replication_role = replica');
  await other.$executeRawUnsafe(spoil);
  const found = await findBrokenRules(other);
  await other.$executeRawUnsafe(mend);
  await close();
  return found;
}

test('a batch that does not cost what it drew is seen', async () => {
  const a = await powderFixture(owner);
  await lotFixture(owner, a.id, { quantity: 2000, costMinor: 2000 });
  const { number, lotId } = await batchFixture(owner, (await mixFixture(owner, [a.id])).id);
  const found = await broken(
    `UPDATE lot SET cost_minor = cost_minor + 1 WHERE id = '${lotId}'`,
    `UPDATE lot SET cost_minor = cost_minor - 1 WHERE id = '${lotId}'`,
  );
  expect(found).toEqual([`a batch costs what it drew: batch ${number} costs 1001 and drew 1000`]);
});

test('a third level of mixes is seen', async () => {
  const [a, b, c] = [await powderFixture(owner), await powderFixture(owner), await powderFixture(owner)];
  const low = await mixFixture(owner, [a.id]);
  const middle = await mixFixture(owner, [b.id]);
  const high = await mixFixture(owner, [middle.product.id, c.id]);
  const version = `(SELECT id FROM mix_version WHERE mix_id = '${middle.id}')`;
  const found = await broken(
    `UPDATE mix_part SET material_id = '${low.product.id}' WHERE version_id = ${version}`,
    `UPDATE mix_part SET material_id = '${b.id}' WHERE version_id = ${version}`,
  );
  expect(found).toEqual([`mixes are nested at most once: mix ${high.id} holds mix ${middle.id}, which holds another`]);
});

test('the database itself refuses both', async () => {
  const a = await powderFixture(owner);
  await lotFixture(owner, a.id, { quantity: 2000, costMinor: 2000 });
  const low = await mixFixture(owner, [a.id]);
  const middle = await mixFixture(owner, [low.product.id]);
  const product = await powderFixture(owner);
  const version = { number: 1, weights: 'dry' as const, inPercent: false, note: '', createdAt: new Date() };
  const part = { materialId: middle.product.id, ordinal: 1, share: '1' };
  const third = db.mix.create({
    data: {
      id: newId(),
      productId: product.id,
      versions: { create: { id: newId(), ...version, parts: { create: part } } },
    },
  });
  expect(sqlState(await third.catch((error) => error))).toBe('23514');

  const lot = await lotFixture(owner, low.product.id, { quantity: 10, costMinor: 10 });
  const { id: versionId } = await db.mixVersion.findFirstOrThrow({ where: { mixId: low.id } });
  const dear = db.mixBatch.create({
    data: {
      id: newId(),
      number: 9999,
      versionId,
      lotId: lot.id,
      makeGrams: 10,
      addWaterMl: 0,
      madeOn: new Date(),
      note: '',
      createdAt: new Date(),
    },
  });
  expect(sqlState(await dear.catch((error) => error))).toBe('WB006');
});

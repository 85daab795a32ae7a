import { randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { inTransaction } from '../../../src/database/transaction.js';
import { findTariffOn } from '../../../src/studio/kilns/service.js';
import { testApp } from '../../support/app.js';
import { TARIFF, tariffFixture } from '../../support/fixtures/kilns.js';
import { studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();

const band = (fromMinute: number, toMinute: number, perKwhMinor = '27.35') => ({ fromMinute, toMinute, perKwhMinor });
const on = (day: string) => inTransaction(db, (tx) => findTariffOn(tx, day));

describe('adding a tariff', () => {
  test('keeps its bands in the order of the day, and its prices as they were written', async () => {
    const bands = [band(420, 1440, '27.350'), band(0, 420, '0.000001')];
    const answer = await owner.post('/api/tariffs', { ...TARIFF, validFrom: '2020-01-01', bands });
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toEqual({
      id: expect.any(String),
      name: TARIFF.name,
      validFrom: '2020-01-01',
      bands: [band(0, 420, '0.000001'), band(420, 1440, '27.35')],
    });
  });

  test.each([
    ['a gap', [band(0, 420), band(480, 1440)], 'no price from 07:00 to 08:00'],
    ['an overlap', [band(0, 480), band(420, 1440)], 'two prices from 07:00 to 08:00'],
    ['an evening left out', [band(0, 1200)], 'no price from 20:00 to 24:00'],
    ['a band past midnight', [band(0, 420), band(420, 1320), band(1320, 420)], 'Write it as two'],
  ])('refuses %s, and says where', async (_, bands, detail) => {
    const answer = await owner.post('/api/tariffs', { ...TARIFF, validFrom: '2021-01-01', bands });
    expect(answer.json()).toMatchObject({ status: 422, errors: [{ pointer: '#/bands' }] });
    expect(answer.json().detail).toContain(detail);
    expect(await db.tariff.count({ where: { validFrom: new Date('2021-01-01') } })).toBe(0);
  });

  test.each([
    ['no bands', { bands: [] }, '#/bands'],
    ['a float', { bands: [{ fromMinute: 0, toMinute: 1440, perKwhMinor: 27.35 }] }, '#/bands/0/perKwhMinor'],
    ['to be paid for drawing', { bands: [band(0, 1440, '-1')] }, '#/bands/0/perKwhMinor'],
    ['a minute after midnight', { bands: [band(0, 1441)] }, '#/bands/0/toMinute'],
    ['a year mistyped', { validFrom: '0206-01-01' }, '#/validFrom'],
    ['the 31st of June', { validFrom: '2026-06-31' }, '#/validFrom'],
  ])('refuses %s', async (_, change, pointer) => {
    const answer = await owner.post('/api/tariffs', { ...TARIFF, validFrom: '2021-01-01', ...change });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().errors.map((e: { pointer: string }) => e.pointer)).toContain(pointer);
  });

  test('refuses a second one from the same day', async () => {
    await tariffFixture(owner, { validFrom: '2022-01-01' });
    const answer = await owner.post('/api/tariffs', { ...TARIFF, validFrom: '2022-01-01' });
    expect(answer.json()).toMatchObject({
      type: '/problems/already-there',
      detail: expect.stringContaining('1 January 2022'),
    });
  });

  test('adds one, however often it is sent', async () => {
    const key = randomUUID();
    const send = () => owner.post('/api/tariffs', { ...TARIFF, validFrom: '2023-01-01' }, key);
    const answers = await Promise.all([send(), send(), send()]);
    expect(answers.map((a) => a.statusCode)).toEqual([201, 201, 201]);
    expect(await db.tariffBand.count({ where: { tariff: { validFrom: new Date('2023-01-01') } } })).toBe(2);
  });
});

describe('the tariff of a day', () => {
  test('is the latest that had begun', async () => {
    await tariffFixture(owner, { validFrom: '2026-04-01', name: 'From April' });
    await tariffFixture(owner, { validFrom: '2026-01-01', name: 'From January' });
    expect((await on('2026-03-31')).name).toBe('From January');
    expect((await on('2026-04-01')).name).toBe('From April');
    expect((await on('2031-12-31')).name).toBe('From April');
  });

  test('is missed before the first, and the sentence says what to do', async () => {
    await studioFixture(owner);
    await expect(on('2019-12-31')).rejects.toMatchObject({
      type: 'tariff-missing',
      detail: expect.stringMatching(/^No tariff covers .*2019.* Add one that begins by then, on the page Studio\.$/),
    });
  });
});

test('tariffs are money: the owner sees and sets them', async () => {
  const added = await tariffFixture(owner, { validFrom: '2024-01-01' });
  expect((await owner.get('/api/tariffs?limit=200')).json().items).toContainEqual(added);
  expect((await tutor.get('/api/tariffs')).json()).toMatchObject({ type: '/problems/not-allowed' });
  expect((await tutor.post('/api/tariffs', TARIFF)).statusCode).toBe(403);
});

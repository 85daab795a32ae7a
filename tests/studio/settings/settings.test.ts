import { randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { inTransaction } from '../../../src/database/transaction.js';
import { createCharge } from '../../../src/studio/accounts/charges/charges.js';
import { testApp } from '../../support/app.js';
import { made, personFixture, STUDIO, studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor, stranger, clock } = await testApp();
const before = await owner.get('/api/studio');
const { standard } = await studioFixture(owner);
const save = (changes: object = {}) =>
  owner.put('/api/studio', { ...STUDIO, firingTaxRateId: standard.id, ...changes });

const COMPANY = {
  companyNumber: '00000000',
  registeredIn: 'England and Wales',
  legalAddress: '1 Kiln Yard, Ostlemere',
};

describe('the studio', () => {
  test('says what to do while it is not entered', () => {
    expect(before.json()).toMatchObject({
      type: '/problems/set-up-missing',
      detail: expect.stringContaining('the page Studio'),
      lookUp: '/api/studio',
    });
  });

  test('is entered, shown as it was entered, and replaced', async () => {
    const answer = await save({ name: 'Alder Lane Clay', storageDays: 56 });
    expect(answer.json()).toEqual({
      ...STUDIO,
      firingTaxRateId: standard.id,
      name: 'Alder Lane Clay',
      storageDays: 56,
      paperSize: 'A4',
      dayBefore: 'never',
    });
    expect((await owner.get('/api/studio')).json()).toEqual(answer.json());
    expect(await db.studio.count()).toBe(1);
  });

  test.each([
    ['a name that the font lacks', { name: '窯' }, '#/name', /the font lacks 窯/],
    ['no address', { addressLines: [] }, '#/addressLines', /./],
    ['a currency that is none', { currency: 'GPB' }, '#/currency', /ISO 4217/],
    ['a language that is none', { locale: 'english' }, '#/locale', /./],
    ['a language whose digits no paper can print', { locale: 'ar-EG' }, '#/locale', /./],
    ['a telephone number that no paper can print', { phone: '٠١٢٣' }, '#/phone', /font lacks/],
    ['a zone that is none', { timeZone: 'Europe/Ostlemere' }, '#/timeZone', /IANA/],
    ['a wage below nothing', { wagePerHourMinor: -1 }, '#/wagePerHourMinor', /./],
    ['half a penny', { overheadPerHourMinor: 0.5 }, '#/overheadPerHourMinor', /./],
    ['a wage beyond all measure', { wagePerHourMinor: 1e12 }, '#/wagePerHourMinor', /./],
    ['a price step of nothing', { priceStepMinor: 0 }, '#/priceStepMinor', /./],
    ['a risk that is certain', { poorAtMost: '1' }, '#/poorAtMost', /between 0 and 1/],
    ['a rate as a float', { cardPercent: 1.7 }, '#/cardPercent', /./],
    ['a rate in words', { cardPercent: '1,7' }, '#/cardPercent', /decimal/],
    ['a card that keeps half', { cardPercent: '50' }, '#/cardPercent', /below 50/],
    ['more waste than clay', { offcutsPercent: '100.1' }, '#/offcutsPercent', /at most 100/],
    ['expectations of nothing', { enrolmentAlpha: '0' }, '#/enrolmentAlpha', /./],
    ['storage for no day', { storageDays: 0 }, '#/storageDays', /./],
    ['an unknown way', { emptySpace: 'nobody' }, '#/emptySpace', /./],
    ['a company without its place', { ...COMPANY, registeredIn: null }, '#/registeredIn', /where the company is/],
    ['a company without its office', { ...COMPANY, legalAddress: null }, '#/legalAddress', /registered office/],
    ['a place without a company', { registeredIn: 'Scotland' }, '#/companyNumber', /number/],
  ])('is refused: %s', async (_, changes, pointer, detail) => {
    const kept = (await owner.get('/api/studio')).json();
    const answer = await save(changes);
    expect(answer.json()).toMatchObject({ status: 422, errors: [{ pointer, detail: expect.stringMatching(detail) }] });
    expect((await owner.get('/api/studio')).json()).toEqual(kept);
  });

  test('must name a tax rate that there is', async () => {
    expect((await save({ firingTaxRateId: randomUUID() })).json()).toMatchObject({
      type: '/problems/not-found',
      lookUp: '/api/tax-rates',
    });
  });

  test('is the owner’s', async () => {
    expect((await tutor.put('/api/studio', STUDIO)).statusCode).toBe(403);
    expect((await tutor.get('/api/studio')).statusCode).toBe(403);
    expect((await stranger.get('/api/studio')).statusCode).toBe(401);
  });

  test('may change its currency until something was charged, and never after', async () => {
    expect((await save({ currency: 'EUR' })).statusCode).toBe(200);
    expect((await save()).statusCode).toBe(200);
    const { id: personId } = await personFixture(owner);
    const due = [{ dueOn: '2026-03-10', amountMinor: 500 }];
    await inTransaction(db, (tx) =>
      createCharge(tx, clock.now(), {
        ...{ personId, kind: 'firing', description: 'Glaze firing', grossMinor: 500, taxRateId: standard.id },
        ...{ inAdvance: false, instalments: due },
      }),
    );
    const answer = await save({ currency: 'EUR' });
    expect(answer.json()).toMatchObject({ type: '/problems/never-changes', detail: expect.stringContaining('GBP') });
    expect((await save({ name: 'Alder Lane Pottery' })).json()).toMatchObject({ currency: 'GBP' });
  });
});

describe('tax rates, rooms and refund policies', () => {
  test.each([
    ['/api/tax-rates', { name: 'Reduced', kind: 'standard', percent: '5' }],
    ['/api/rooms', { name: 'Kiln room', benches: 2 }],
    [
      '/api/refund-policies',
      { name: 'Private', refilledFeeMinor: 0, tiers: [{ daysBefore: 7, refundPercent: '100' }] },
    ],
  ])('%s: once by its name and key, listed, and the owner’s to add', async (url, body) => {
    const key = randomUUID();
    const added = await owner.post(url, body, key);
    expect(added.json()).toEqual({ id: expect.any(String), ...body });
    expect((await owner.post(url, body, key)).json()).toEqual(added.json());
    expect((await owner.post(url, body)).json()).toMatchObject({ type: '/problems/already-there', status: 409 });
    expect((await owner.get(url)).json().items).toContainEqual(added.json());
    expect((await tutor.post(url, body)).statusCode).toBe(403);
    expect((await stranger.get(url)).statusCode).toBe(401);
  });

  const tier = (daysBefore: number, refundPercent: string) => ({ daysBefore, refundPercent });
  test.each([
    ['/api/tax-rates', { name: 'X', kind: 'standard', percent: null }, '#/percent'],
    ['/api/tax-rates', { name: 'X', kind: 'exempt', percent: '20' }, '#/percent'],
    ['/api/tax-rates', { name: 'X', kind: 'standard', percent: '100' }, '#/percent'],
    ['/api/tax-rates', { name: 'X', kind: 'standard', percent: '-5' }, '#/percent'],
    ['/api/rooms', { name: 'X', benches: 0 }, '#/benches'],
    ['/api/rooms', { name: 'X', benches: 2.5 }, '#/benches'],
    ['/api/refund-policies', { name: 'X', refilledFeeMinor: 0, tiers: [] }, '#/tiers'],
    ['/api/refund-policies', { name: 'X', refilledFeeMinor: 0, tiers: [tier(14, '100'), tier(28, '50')] }, '#/tiers'],
    ['/api/refund-policies', { name: 'X', refilledFeeMinor: 0, tiers: [tier(14, '50'), tier(14, '50')] }, '#/tiers'],
    ['/api/refund-policies', { name: 'X', refilledFeeMinor: 0, tiers: [tier(14, '101')] }, '#/tiers/0/refundPercent'],
  ])('%s refuses %j', async (url, body, pointer) => {
    const answer = await owner.post(url, body);
    expect(answer.json()).toMatchObject({ status: 422, errors: [{ pointer }] });
    expect((await owner.get(url)).json().items.map(({ name }: { name: string }) => name)).not.toContain('X');
  });

  test('a policy gives its tiers back, earliest notice first', async () => {
    const tiers = [tier(3, '25'), tier(30, '100'), tier(10, '50')];
    await made(owner, '/api/refund-policies', { name: 'Summer', refilledFeeMinor: 250, tiers });
    const { items } = (await owner.get('/api/refund-policies')).json();
    const days = items
      .find(({ name }: { name: string }) => name === 'Summer')
      .tiers.map((t: { daysBefore: number }) => t.daysBefore);
    expect(days).toEqual([30, 10, 3]);
  });
});

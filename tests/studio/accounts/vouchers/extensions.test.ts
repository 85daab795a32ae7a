import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Voucher, VoucherEvent } from '../../../../src/studio/accounts/vouchers/contract.js';
import { voucherCodeInWords } from '../../../../src/trade/text/voucher-code.js';
import { testApp } from '../../../support/app.js';
import { till } from '../../../support/fixtures/vouchers.js';
import { personFixture, studioFixture } from '../../../support/fixtures.js';

const studio = await testApp();
const { db, owner, tutor, clock } = studio;
let shop: ReturnType<typeof till>;
beforeAll(async () => {
  const { standard } = await studioFixture(owner);
  shop = till(studio, standard.id);
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

const extend = (id: string, validUntil: string, reason = 'The studio was closed') =>
  owner.post(`/api/vouchers/${id}/extensions`, { validUntil, reason });
const list = async (query: string): Promise<string[]> =>
  (await owner.get(`/api/vouchers?${query}`)).json().items.map(({ id }: Voucher) => id);

describe('a voucher that is extended', () => {
  test('is valid again on its day, with a paper that says so, seen before it goes', async () => {
    const buyer = await personFixture(owner, 'Ines Duval');
    const voucher = await shop.sell(buyer.id, 5000, { validUntil: '2026-04-30', forWhom: 'Bo' });
    await clock.set('2026-05-04T09:00:00Z');
    const chargeId = await shop.ask(buyer.id, 3000);
    expect((await shop.pay(buyer.id, chargeId, 3000, voucher.code)).json().type).toBe('/problems/voucher-expired');

    const letters = await db.notice.count();
    const wish = { validUntil: '2026-08-31', reason: 'Ill for a month' };
    const seen = (await owner.post(`/api/vouchers/${voucher.id}/extensions/preview`, wish)).json();
    expect(seen.letters[0].text).toContain('Your voucher of £50 for Bo can be used for longer now.');
    expect(seen.letters[0].text).toContain('It is valid until 31 August 2026.');
    expect(seen.letters[0].text).not.toContain('Ill for a month');
    expect(await db.notice.count()).toBe(letters);

    const extended: Voucher = (await extend(voucher.id, wish.validUntil, wish.reason)).json();
    expect(extended).toMatchObject({ state: 'open', validUntil: '2026-08-31', leftMinor: 5000, code: voucher.code });
    expect(extended.documentId).not.toBe(voucher.documentId);
    expect((await owner.get(`/api/documents/${extended.documentId}/pdf`)).statusCode).toBe(200);
    expect((await shop.pay(buyer.id, chargeId, 3000, voucher.code)).statusCode).toBe(201);
    expect(await shop.left(voucher.id)).toBe(2000);

    const { items }: { items: VoucherEvent[] } = (await owner.get(`/api/vouchers/${voucher.id}/events`)).json();
    expect(items).toMatchObject([
      { kind: 'sold', amountMinor: 5000, on: '2026-03-10' },
      { kind: 'extended', amountMinor: null, what: wish.reason, validUntil: '2026-08-31', madeBy: 'Test owner' },
      { kind: 'used', amountMinor: -3000, on: '2026-05-04' },
    ]);
    const papers = (await owner.get(`/api/papers?q=${voucher.code}`)).json().items;
    expect(papers.map(({ name }: { name: string }) => name)).toEqual(['Ines Duval', 'Ines Duval']);
  });

  test('moves nothing in the books', async () => {
    const buyer = await personFixture(owner);
    const voucher = await shop.sell(buyer.id, 5000, { validUntil: '2026-04-30' });
    expect(await shop.posted(() => extend(voucher.id, '2026-06-30'))).toEqual({});
  });

  test('lapses by its new day, and money goes back on it until then', async () => {
    const buyer = await personFixture(owner);
    const voucher = await shop.sell(buyer.id, 5000, { validUntil: '2026-04-30' });
    await extend(voucher.id, '2026-06-30');
    await clock.set('2026-05-20T09:00:00Z');
    const lapse = () => owner.post(`/api/vouchers/${voucher.id}/lapse`, { taxRateId: null });
    expect((await lapse()).json()).toMatchObject({
      type: '/problems/voucher-still-valid',
      detail: 'The voucher can be used until 30 June 2026. Let it lapse after that day.',
    });
    await clock.set('2026-07-01T09:00:00Z');
    expect((await lapse()).json()).toMatchObject({ state: 'lapsed', leftMinor: 0 });
    expect((await extend(voucher.id, '2026-09-30')).json().type).toBe('/problems/voucher-spent');
  });

  test('only ever ends later, in the database too', async () => {
    const buyer = await personFixture(owner);
    const voucher = await shop.sell(buyer.id, 5000, { validUntil: '2026-04-30' });
    const refused = await extend(voucher.id, '2026-04-30');
    expect([refused.statusCode, refused.json().errors[0].pointer]).toEqual([422, '#/validUntil']);
    expect(refused.json().detail).toBe('An extension ends later than 30 April 2026. Give a later day.');
    await clock.set('2026-05-10T09:00:00Z');
    expect((await extend(voucher.id, '2026-05-10')).json().detail).toContain('later than 10 May 2026');
    expect((await extend(voucher.id, '2100-01-01')).statusCode).toBe(422);
    expect((await extend(voucher.id, '2026-06-30')).statusCode).toBe(201);
    const row = await db.voucherExtension.findFirstOrThrow({ where: { voucherId: voucher.id } });
    const { documentId } = await shop.sell(buyer.id, 100);
    const earlier = { ...row, id: documentId, documentId, validUntil: new Date('2026-06-30') };
    await expect(db.voucherExtension.create({ data: earlier })).rejects.toThrow(/WB004/);
    await expect(db.voucherExtension.deleteMany({ where: { id: row.id } })).rejects.toThrow(/WB004/);
    const endless = await shop.sell(buyer.id, 5000);
    expect((await extend(endless.id, '2026-12-31')).json().detail).toContain('no expiry date');
    expect((await tutor.post(`/api/vouchers/${endless.id}/extensions`, {})).statusCode).toBe(403);
  });
});

test('vouchers are found by their code, their buyer and whom they are for, by state', async () => {
  const buyer = await personFixture(owner, 'Zoë Marlow');
  const open = await shop.sell(buyer.id, 5000, { validUntil: '2026-04-30', forWhom: 'Ångström' });
  const used = await shop.sell(buyer.id, 1000);
  const chargeId = await shop.ask(buyer.id, 1000);
  await shop.pay(buyer.id, chargeId, 1000, used.code);
  expect(await list('q=zoe%20marlow')).toEqual([used.id, open.id]);
  expect(await list('q=angstrom')).toEqual([open.id]);
  expect(await list(`q=${encodeURIComponent(voucherCodeInWords(open.code))}`)).toEqual([open.id]);
  expect(await list(`code=${open.code}`)).toEqual([open.id]);
  expect(await list('q=marlow&state=open')).toEqual([open.id]);
  expect(await list('q=marlow&state=ended')).toEqual([used.id]);
  await clock.set('2026-05-01T09:00:00Z');
  expect(await list('q=marlow&state=expired')).toEqual([open.id]);
  expect(await list(`buyerId=${buyer.id}&state=open`)).toEqual([]);
  await extend(open.id, '2026-06-30');
  expect(await list('q=marlow&state=open')).toEqual([open.id]);
  expect(await list('q=marlow&state=expired')).toEqual([]);
});

test('what selling one would do is seen first, and nothing is kept of it', async () => {
  const buyer = await personFixture(owner);
  const before = [await db.voucher.count(), await db.receipt.count()];
  const wish = { buyerId: buyer.id, amountMinor: 5000, method: 'card', taxRateId: null };
  const seen = (await owner.post('/api/vouchers/preview', wish)).json();
  expect(seen).toMatchObject({ outcome: { amountMinor: 5000, state: 'open' }, letters: [{}, {}] });
  expect([await db.voucher.count(), await db.receipt.count()]).toEqual(before);
});

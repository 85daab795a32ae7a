import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Debtor } from '../../../src/studio/accounts/contract.js';
import type { MembershipInFull } from '../../../src/studio/memberships/contract.js';
import { chargeMemberships } from '../../../src/studio/memberships/jobs.js';
import { testApp } from '../../support/app.js';
import { kindFixture, membershipFixture } from '../../support/fixtures/memberships.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';

const { db, owner, clock } = await testApp();
let standard: { id: string };
beforeAll(async () => {
  ({ standard } = await studioFixture(owner));
});
// Each test has two years of its own, in which the memberships of the others are over: the job charges and completes the months of all.
let year = 2024;
beforeEach(async () => {
  await db.membership.updateMany({ where: { endsOn: null }, data: { endsOn: new Date(`${year + 1}-12-31`) } });
  year += 2;
  await clock.set(`${year}-03-10T09:00:00Z`);
  await chargeMemberships(db, clock.now());
});
/** A day of the test's year, or of one after it. */
const on = (monthAndDay: string, later = 0) => `${year + later}-${monthAndDay}`;

const read = async (id: string): Promise<MembershipInFull> => (await owner.get(`/api/memberships/${id}`)).json();
const amounts = async (id: string) =>
  (await read(id)).months.map(({ month, amountMinor }) => [month.slice(0, 7), amountMinor]).reverse();
const run = async (day: string) => {
  await clock.set(`${day}T09:00:00Z`);
  return chargeMemberships(db, clock.now());
};
const balance = async (code: string): Promise<number> =>
  (await owner.get('/api/account-balances')).json().items.find((account: { code: string }) => account.code === code)
    .balanceMinor;
const member = async (startsOn: string, kind: object = {}, changes: object = {}) => {
  const person = await personFixture(owner);
  const { id } = await kindFixture(owner, standard.id, kind);
  return { person, ...(await membershipFixture(owner, person.id, id, startsOn, changes)) };
};

describe('a monthly fee', () => {
  test('is charged once for each month, the first by its days, and all that was missed while the program was off', async () => {
    const { id } = await member(on('03-10'));
    expect(await amounts(id)).toEqual([[on('03'), 4258]]); // 6000 × 22 / 31 = 4258.06…, by hand
    expect(await run(on('03-31'))).toBe(0);
    expect(await run(on('04-01'))).toBe(1);
    expect(await run(on('04-01'))).toBe(0);
    expect(await run(on('07-02'))).toBe(3);
    expect(await amounts(id)).toEqual([
      ...[
        [on('03'), 4258],
        [on('04'), 6000],
        [on('05'), 6000],
        [on('06'), 6000],
        [on('07'), 6000],
      ],
    ]);
  });

  test('is charged once, whichever of two workers comes first', async () => {
    const { id } = await member(on('03-10'));
    await clock.set(`${on('05-01')}T09:00:00Z`);
    await Promise.all([1, 2, 3, 4].map(() => chargeMemberships(db, clock.now())));
    expect(await amounts(id)).toEqual([
      [on('03'), 4258],
      [on('04'), 6000],
      [on('05'), 6000],
    ]);
    expect(await db.membershipMonth.count({ where: { membershipId: id } })).toBe(3);
  });

  test('begins on its day in the studio, not in UTC, and in the month that 31 January begins', async () => {
    await clock.set(`${on('01-20', 1)}T09:00:00Z`);
    const { id } = await member(on('01-31', 1));
    expect(await amounts(id)).toEqual([]);
    expect((await read(id)).next).toEqual({ month: on('01-01', 1), on: on('01-31', 1), amountMinor: 194 });
    expect(await run(on('01-31', 1))).toBe(1);
    await clock.set(`${on('03-31', 1)}T23:30:00Z`); // in summer time it is 1 April in London
    await chargeMemberships(db, clock.now());
    expect(await amounts(id)).toEqual([
      [on('01', 1), 194],
      [on('02', 1), 6000],
      [on('03', 1), 6000],
      [on('04', 1), 6000],
    ]);
  });

  test('is owed, with its VAT as it is paid and on what is unpaid once its month is over', async () => {
    const before = { vat: await balance('vat'), income: await balance('membership-income') };
    const { id, person } = await member(on('03-01'));
    const [debtor] = (await owner.get(`/api/debtors?personId=${person.id}`)).json().items as Debtor[];
    expect(debtor).toMatchObject({
      ...{ owedMinor: 6000, dueMinor: 6000, firingOwedMinor: 0 },
      charges: [{ kind: 'membership', description: expect.stringMatching(/^Bench membership \d+, March \d+$/) }],
    });
    expect(await balance('vat')).toBe(before.vat);
    const chargeId = debtor?.charges[0]?.chargeId;
    const paid = await owner.post('/api/payments', {
      ...{ personId: person.id, method: 'card', for: [{ chargeId, amountMinor: 3000 }] },
    });
    expect(paid.statusCode).toBe(201);
    expect(await balance('vat')).toBe(before.vat - 500); // a sixth of £30 is VAT at 20%
    expect(await balance('membership-income')).toBe(before.income);
    await run(on('03-31'));
    expect(await balance('membership-income')).toBe(before.income);
    await run(on('04-01'));
    expect(await balance('vat')).toBe(before.vat - 1000);
    expect(await balance('membership-income')).toBe(before.income - 5000);
    expect((await read(id)).owedMinor).toBe(9000);
    const receipt = await owner.get(`/api/documents/${paid.json().documentId}/pdf`);
    expect(receipt.statusCode).toBe(200);
  });

  test('is told by letter where the kind says so, in one letter for all months', async () => {
    const { id, person } = await member(on('03-10'), { writesLetters: true });
    await run(on('05-01'));
    const letters = await db.notice.findMany({ where: { personId: person.id }, orderBy: { id: 'asc' } });
    expect(letters.map(({ occasion }) => occasion)).toEqual([
      'membershipStarted',
      'membershipCharged',
      'membershipCharged',
    ]);
    const texts: string[] = [];
    for (const letter of letters) texts.push((await owner.get(`/api/notices/${letter.id}`)).json().text);
    expect(texts[0]).toContain(`starts on 10 March ${year}.`);
    expect(texts[0]?.replace(/\s+/g, ' ')).toContain(
      `For March ${year} that is £42.58 (22 of 31 days at £60 a month).`,
    );
    expect(texts[0]).toContain('To end it, give us 1 month’s notice.');
    expect(texts[2]).toContain(`April ${year}: £60\n  May ${year}: £60`);
    expect((await read(id)).kindName).toBeTruthy();
  });

  test('of one who was a member before is charged from when the owner says, and never for many months at once', async () => {
    const person = await personFixture(owner);
    const kind = await kindFixture(owner, standard.id);
    const start = (chargedFrom: string) =>
      owner.post(`/api/people/${person.id}/memberships`, { kindId: kind.id, startsOn: on('05-01', -2), chargedFrom });
    const refused = await start(on('12-01', -1));
    expect([refused.statusCode, refused.json().errors[0].pointer]).toEqual([422, '#/chargedFrom']);
    const { id } = (await start(on('04-01'))).json();
    expect(await amounts(id)).toEqual([]);
    expect((await read(id)).next).toEqual({ month: on('04-01'), on: on('04-01'), amountMinor: 6000 });
    expect((await owner.get(`/api/people/${person.id}`)).json().memberSince).toBe(on('05-01', -2));
  });
});

describe('the database', () => {
  const tried = (work: Promise<unknown>) =>
    work
      .then(() => 'done')
      .catch((error: Error) => /WB\d+|23P01|23514|23505/.exec(JSON.stringify(error) + error.message)?.[0]);

  test('has one charge for each month, of the sum that its days come to', async () => {
    const { id } = await member(on('03-01'));
    const [row] = await db.membershipMonth.findMany({ where: { membershipId: id } });
    if (!row) throw new Error('A month is charged.');
    expect(await tried(db.membershipMonth.create({ data: { ...row, chargeId: null, amountMinor: 0 } }))).toBe('23514');
    expect(await tried(db.membershipMonth.create({ data: row }))).not.toBe('done');
    const april = { ...row, month: new Date(on('04-01')), monthDays: 30, fullDays: 30 };
    expect(await tried(db.membershipMonth.create({ data: april }))).not.toBe('done'); // its charge is March's
    expect(
      await tried(db.membershipMonth.update({ where: { chargeId: row.chargeId ?? '' }, data: { feeMinor: 1 } })),
    ).toBe('WB030');
    expect(await tried(db.membershipMonth.deleteMany({}))).toBe('WB030');
    const before = {
      ...row,
      month: new Date(on('02-01')),
      monthDays: 28,
      fullDays: 0,
      pausedDays: 28,
      amountMinor: 0,
      chargeId: null,
    };
    expect(await tried(db.membershipMonth.create({ data: before }))).toBe('WB030');
  });

  test('keeps what was agreed, and one membership of a person at a time', async () => {
    const { id } = await member(on('03-01'));
    const { withdrawnAt: _, ...row } = await db.membership.findUniqueOrThrow({ where: { id } });
    expect(await tried(db.membership.update({ where: { id }, data: { benchMinutes: 60 } }))).toBe('WB030');
    const again = { ...row, id: row.kindId, startsOn: new Date(on('01-01', 1)), chargedFrom: new Date(on('01-01', 1)) };
    expect(await tried(db.membership.create({ data: again }))).toBe('23P01');
    const pause = { id: row.kindId, membershipId: id, fromOn: new Date(on('02-01')), toOn: new Date(on('02-03')) };
    expect(await tried(db.membershipPause.create({ data: pause }))).toBe('WB030');
  });
});

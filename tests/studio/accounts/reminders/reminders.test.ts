import { randomUUID } from 'node:crypto';
import { expect, test } from 'vitest';
import { letterFor } from '../../../../src/mail/letters.js';
import { outboxFolder } from '../../../../src/mail/outbox-folder.js';
import { noticeTasks } from '../../../../src/studio/notices/jobs.js';
import { testApp } from '../../../support/app.js';
import { folder } from '../../../support/embedded.js';
import { till } from '../../../support/fixtures/vouchers.js';
import { made, personFixture, STUDIO, studioFixture } from '../../../support/fixtures.js';

const house = await testApp();
const { db, clock, owner, tutor } = house;
const { standard } = await studioFixture(owner);
const { ask, pay } = till(house, standard.id);

const remind = (personId: string, key?: string) => owner.post(`/api/people/${personId}/reminders`, {}, key);
const debtor = async (personId: string) =>
  (await owner.get('/api/debtors')).json().items.find((one: { personId: string }) => one.personId === personId);
const noticesOf = (personId: string) => db.notice.findMany({ where: { personId, occasion: 'reminder' } });

test('a reminder names what is due and nothing else, and is queued as a letter', async () => {
  const ada = await personFixture(owner, 'Ada Finch');
  const jars = await ask(ada.id, 24_000, {
    instalments: [
      { dueOn: '2026-02-20', amountMinor: 6000 },
      { dueOn: '2026-03-09', amountMinor: 10_000 },
      { dueOn: '2026-03-11', amountMinor: 8000 },
    ],
  });
  await pay(ada.id, jars, 6000);
  const firing = await ask(ada.id, 1250, { kind: 'firing', description: 'Firing 12, 3 pieces', inAdvance: false });
  const later = { dueOn: '2026-04-01', amountMinor: 5000 };
  await ask(ada.id, 5000, { description: 'Tall bottles', instalments: [later] });
  expect(await debtor(ada.id)).toMatchObject({
    ...{ owedMinor: 24_250, dueMinor: 11_250, firingOwedMinor: 1250, firingDueMinor: 1250 },
    ...{ hasEmail: true, remindedOn: null },
  });

  const answer = await remind(ada.id);
  expect(answer.statusCode).toBe(201);
  const [notice, ...more] = await noticesOf(ada.id);
  expect(more).toEqual([]);
  expect(answer.json()).toEqual({
    ...{ noticeId: notice?.id, dueMinor: 11_250, hasEmail: true },
    chargeIds: [jars, firing], // the longest due first
  });
  expect(notice?.data).toEqual({
    due: '£112.50',
    lines: [
      { what: 'Lidded jars, from 7 April', amount: '£100', since: '9 March 2026' },
      { what: 'Firing 12, 3 pieces', amount: '£12.50', since: '10 March 2026' },
    ],
    howToPay: [`For firing: ${STUDIO.howToPay}`, `For the rest: ${STUDIO.howToPayCourses}`],
  });
  const letter = letterFor('reminder', notice?.data, { studio: STUDIO, personName: 'Ada Finch' });
  expect(letter.subject).toBe('A reminder: £112.50 to pay to Alder Lane Pottery');
  const jobs = await db.$queryRaw`SELECT 1 FROM graphile_worker.jobs WHERE key = ${`deliver-${notice?.id}`}`;
  expect(jobs).toHaveLength(1);
  expect((await debtor(ada.id)).remindedOn).toBe('2026-03-10');
});

test.each([
  ['a course is not paid for when work is collected', {}, STUDIO.howToPayCourses],
  ['firing is', { kind: 'firing' as const, inAdvance: false }, STUDIO.howToPay],
])('%s', async (_, charge, howToPay) => {
  const { id } = await personFixture(owner);
  await ask(id, 1250, charge);
  await remind(id);
  expect(await noticesOf(id)).toMatchObject([{ data: { howToPay: [howToPay] } }]);
});

test('nobody is reminded of what is not due, is paid, or belongs to somebody else', async () => {
  const [tom, eve] = [await personFixture(owner, 'Tom Ashby'), await personFixture(owner, 'Eve Marsh')];
  await ask(tom.id, 5000, { instalments: [{ dueOn: '2026-03-11', amountMinor: 5000 }] });
  await ask(eve.id, 3000);
  const early = await remind(tom.id);
  expect([early.statusCode, early.json().type]).toEqual([409, '/problems/nothing-owed']);
  expect(early.json().detail).toContain('Tom Ashby');
  const paid = await ask(tom.id, 700);
  await pay(tom.id, paid, 700);
  expect((await remind(tom.id)).statusCode).toBe(409);
  expect(await noticesOf(tom.id)).toEqual([]);
  expect((await remind(randomUUID())).statusCode).toBe(404);
  expect((await tutor.post(`/api/people/${eve.id}/reminders`, {})).statusCode).toBe(403);
});

test('a week of peace lies between two reminders, by the days of the studio', async () => {
  const ines = await personFixture(owner, 'Ines Duval');
  await ask(ines.id, 3000, { instalments: [{ dueOn: '2026-03-01', amountMinor: 3000 }] });
  await clock.set('2026-03-27T23:30:00Z'); // two days before the clocks go forward
  expect((await remind(ines.id)).statusCode).toBe(201);
  await clock.set('2026-04-02T22:30:00Z'); // 23:30 in London, the sixth day after
  const refused = await remind(ines.id);
  expect([refused.statusCode, refused.json().type]).toEqual([409, '/problems/already-reminded']);
  expect(refused.json()).toMatchObject({
    remindedOn: '2026-03-27',
    detail: expect.stringContaining('from 3 April 2026'),
  });
  await clock.set('2026-04-02T23:30:00Z'); // 00:30 in London, the seventh
  expect((await remind(ines.id)).statusCode).toBe(201);
  expect((await debtor(ines.id)).remindedOn).toBe('2026-04-03');
  await clock.set('2026-03-10T09:00:00Z');
});

test('one reminder is written, however many ask at once or with one key', async () => {
  const olga = await personFixture(owner, 'Olga Reed');
  await ask(olga.id, 3000);
  const answers = await Promise.all(Array.from({ length: 8 }, () => remind(olga.id)));
  expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, ...Array(7).fill(409)]);
  expect(await noticesOf(olga.id)).toHaveLength(1);

  const jan = await personFixture(owner, 'Jan Reed');
  await ask(jan.id, 3000);
  const key = randomUUID();
  const same = await Promise.all(Array.from({ length: 4 }, () => remind(jan.id, key)));
  expect(new Set(same.map(({ body }) => body)).size).toBe(1);
  expect(await noticesOf(jan.id)).toHaveLength(1);
});

test('who has no e-mail address: the answer says so, and so does the delivery', async () => {
  const body = { name: 'Wil Harrow', email: null, addressLines: ['2 Weir Bank'] };
  const wil = await made<{ id: string }>(owner, '/api/people', body);
  await ask(wil.id, 3000);
  const { noticeId, hasEmail } = (await remind(wil.id)).json();
  expect(hasEmail).toBe(false);
  expect((await debtor(wil.id)).hasEmail).toBe(false);
  const transport = outboxFolder(await folder());
  await noticeTasks({ db, now: clock.now, transport, writesFiles: true, from: undefined })['deliver-notice']({
    noticeId,
  });
  expect(await db.delivery.findMany({ where: { noticeId } })).toMatchObject([{ outcome: 'noAddress' }]);
});

import { expect, test } from 'vitest';
import { MailNotSent, type MailTransport } from '../../../src/mail/transport.js';
import { noticeTasks } from '../../../src/studio/notices/jobs.js';
import type { Today } from '../../../src/studio/reports/contract.js';
import { testApp } from '../../support/app.js';
import { till } from '../../support/fixtures/vouchers.js';
import { made, personFixture, studioFixture } from '../../support/fixtures.js';

const house = await testApp();
const { db, owner, tutor, clock } = house;
const { standard } = await studioFixture(owner);
const { ask, pay } = till(house, standard.id);

const todayAt = async (instant: string, caller = owner): Promise<Today> => {
  await clock.set(instant);
  const answer = await caller.get('/api/today');
  if (answer.statusCode !== 200) throw new Error(answer.body);
  return answer.json();
};

test('who owes: sums, firing fees apart, and the five who owe most, what is due first', async () => {
  await clock.set('2026-03-10T09:00:00Z');
  const people = [];
  for (const name of ['Ada', 'Bo', 'Cy', 'Dee', 'Eve', 'Fay', 'Gil']) people.push(await personFixture(owner, name));
  const [ada, bo, cy, dee, eve, fay, gil] = people.map(({ id }) => id) as [string, ...string[]];
  const due = (amountMinor: number, dueOn: string) => ({ instalments: [{ dueOn, amountMinor }] });
  await ask(ada, 9000, due(9000, '2026-07-07')); // due tomorrow
  await ask(bo ?? '', 100, { description: 'Later', ...due(100, '2026-07-05') });
  await ask(bo ?? '', 2000, { description: 'Firing 4', kind: 'firing', inAdvance: false, ...due(2000, '2026-05-01') });
  await pay(cy ?? '', await ask(cy ?? '', 5000, due(5000, '2026-04-01')), 4000);
  await ask(dee ?? '', 8000, due(8000, '2026-07-08'));
  await ask(eve ?? '', 700, { kind: 'firing', inAdvance: false, ...due(700, '2026-07-09') });
  await ask(fay ?? '', 600, due(600, '2026-07-09'));
  await pay(gil ?? '', await ask(gil ?? '', 4000), 4000); // owes nothing

  const { debts } = await todayAt('2026-07-06T22:30:00Z'); // 23:30 in London on the 6th
  expect(debts).toEqual({
    ...{ people: 6, dueMinor: 3100, owedMinor: 21_400, firingPeople: 2, firingOwedMinor: 2700 },
    ...{ heldPeople: 0, heldMinor: 0 },
    top: [
      {
        ...{ personId: bo, name: 'Bo', dueMinor: 2100, owedMinor: 2100, firingOwedMinor: 2000 },
        what: ['Firing 4', 'Later'],
      },
      {
        ...{ personId: cy, name: 'Cy', dueMinor: 1000, owedMinor: 1000, firingOwedMinor: 0 },
        what: ['Lidded jars, from 7 April'],
      },
      expect.objectContaining({ name: 'Ada', dueMinor: 0, owedMinor: 9000 }),
      expect.objectContaining({ name: 'Dee', dueMinor: 0, owedMinor: 8000 }),
      expect.objectContaining({ name: 'Eve', dueMinor: 0, owedMinor: 700, firingOwedMinor: 700 }),
    ],
  });
  const tomorrow = await todayAt('2026-07-06T23:30:00Z'); // 00:30 on the 7th
  expect([tomorrow.debts?.dueMinor, tomorrow.debts?.top[0]?.name]).toEqual([12_100, 'Ada']);
  expect((await todayAt('2026-07-06T22:30:00Z', tutor)).debts).toBe(null);
});

test('mail: what reached nobody within four weeks, until it goes out', async () => {
  await clock.set('2026-03-10T09:00:00Z');
  const transport = (works: boolean): MailTransport => ({
    send: () =>
      works ? Promise.resolve({ where: 'sent' }) : Promise.reject(new MailNotSent('The server is away.', true)),
  });
  const deliver = (noticeId: string, works: boolean) =>
    noticeTasks({ db, now: clock.now, transport: transport(works), writesFiles: false, from: undefined })[
      'deliver-notice'
    ]({ noticeId });
  const remind = async (personId: string): Promise<string> => {
    await ask(personId, 500);
    const answer = await owner.post(`/api/people/${personId}/reminders`);
    if (answer.statusCode !== 201) throw new Error(answer.body);
    return answer.json().noticeId;
  };
  const [hal, ivy] = [await personFixture(owner, 'Hal'), await personFixture(owner, 'Ivy')];
  const jo = await made<{ id: string }>(owner, '/api/people', { name: 'Jo', email: null, addressLines: [] });
  const [toHal, toIvy, toJo] = [await remind(hal.id), await remind(ivy.id), await remind(jo.id)];
  await deliver(toIvy, true);
  await deliver(toHal, false);
  await clock.set('2026-03-11T09:00:00Z');
  await deliver(toJo, true);

  const failed = {
    ...{ noticeId: toHal, personId: hal.id, personName: 'Hal', occasion: 'reminder' },
    ...{ at: '2026-03-10T09:00:00.000Z', outcome: 'failed', detail: 'The server is away.' },
  };
  const nowhere = {
    ...{ noticeId: toJo, personId: jo.id, personName: 'Jo', occasion: 'reminder', at: '2026-03-11T09:00:00.000Z' },
    ...{ outcome: 'noAddress', detail: 'No email address is known. Print it, or tell the person.' },
  };
  expect((await todayAt('2026-03-11T09:00:00Z')).mail).toEqual({ failed: [nowhere, failed] });
  expect((await todayAt('2026-03-11T09:00:00Z', tutor)).mail).toBe(null);
  expect((await todayAt('2026-04-07T22:30:00Z')).mail?.failed).toEqual([nowhere, failed]); // the 28th day, 23:30
  expect((await todayAt('2026-04-07T23:30:00Z')).mail?.failed).toEqual([nowhere]); // 00:30 on the 29th
  await clock.set('2026-03-12T09:00:00Z');
  await deliver(toHal, true);
  expect((await todayAt('2026-03-12T09:00:00Z')).mail?.failed).toEqual([nowhere]);
});

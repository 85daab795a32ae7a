import { parse } from 'csv-parse/sync';
import { describe, expect, test } from 'vitest';
import type { Debtor } from '../../../../src/studio/accounts/contract.js';
import { debtorsCsv } from '../../../../src/studio/accounts/reminders/debtors-csv.js';
import { testApp } from '../../../support/app.js';
import { till } from '../../../support/fixtures/vouchers.js';
import { personFixture, studioFixture } from '../../../support/fixtures.js';

const COLUMNS = [
  ...['person', 'kind', 'for', 'currency', 'price', 'credited', 'paid', 'owed', 'due', 'due on', 'reminded on'],
  ...['held, not owed', 'held until'],
];
const charge = {
  ...{ chargeId: '', personId: '', kind: 'firing' as const, description: 'Firing 3, 2 pieces' },
  ...{ grossMinor: 12_345, creditedMinor: 0, paidMinor: 5, owedMinor: 12_340, dueMinor: 12_340, dueOn: '2026-03-02' },
  ...{ heldMinor: 0, hold: null },
};
const debtorOf = (name: string, changes: object = {}): Debtor => ({
  ...{ personId: '', name, owedMinor: 0, dueMinor: 0, heldMinor: 0, firingOwedMinor: 0, firingDueMinor: 0 },
  ...{ hasEmail: true, remindedOn: null, charges: [{ ...charge, ...changes }] },
});
const cells = (csv: string): string[][] => parse(csv, { bom: true });

describe('the list of what is owed, for a spreadsheet', () => {
  const house = testApp();

  test('has a line for each charge, the most due first, and comes as a file', async () => {
    const { owner, tutor, ...rest } = await house;
    const { standard } = await studioFixture(owner);
    const { ask, pay } = till({ owner, ...rest }, standard.id);
    expect(cells((await owner.get('/api/debtors.csv')).body)).toEqual([COLUMNS]);
    const [ada, bo] = [await personFixture(owner, 'Ada "Kiln" Finch'), await personFixture(owner, 'Bo Lund, Jr')];
    await pay(ada.id, await ask(ada.id, 24_000), 4000);
    await ask(bo.id, 30_050, { kind: 'firing', description: 'Firing 12', inAdvance: false });
    await ask(bo.id, 1000, { instalments: [{ dueOn: '2026-05-01', amountMinor: 1000 }] });
    await owner.post(`/api/people/${ada.id}/reminders`);

    const answer = await owner.get('/api/debtors.csv');
    expect(answer.headers['content-type']).toBe('text/csv; charset=utf-8');
    expect(answer.headers['content-disposition']).toBe('attachment; filename="owed-2026-03-10.csv"');
    expect(cells(answer.body)).toEqual([
      COLUMNS,
      [
        'Bo Lund, Jr',
        'firing',
        'Firing 12',
        'GBP',
        '300.50',
        '0.00',
        '0.00',
        '300.50',
        '300.50',
        '2026-03-10',
        '',
        '0.00',
        '',
      ],
      [
        'Bo Lund, Jr',
        'course',
        'Lidded jars, from 7 April',
        'GBP',
        '10.00',
        '0.00',
        '0.00',
        '10.00',
        '0.00',
        '2026-05-01',
        ...['', '0.00', ''],
      ],
      [
        ...['Ada "Kiln" Finch', 'course', 'Lidded jars, from 7 April', 'GBP'],
        ...['240.00', '0.00', '40.00', '200.00', '200.00', '2026-03-10', '2026-03-10', '0.00', ''],
      ],
    ]);
    expect(cells((await owner.get('/api/debtors.csv?on=2026-03-09')).body)[1]?.[8]).toBe('0.00');
    expect((await owner.get('/api/debtors.csv?on=soon')).statusCode).toBe(422);
    expect((await tutor.get('/api/debtors.csv')).statusCode).toBe(403);
  });

  // What a spreadsheet takes for a formula: OWASP, "CSV Injection" (the signs from memory)
  test.each(['=1+1', '+1', '-1', '@SUM(1)', '\t=1', '=HYPERLINK("http://example.org";"here")'])(
    'never begins a cell with %j',
    (name) => {
      const [, line] = cells(debtorsCsv([debtorOf(name, { description: name })], 'GBP'));
      expect([line?.[0], line?.[2]]).toEqual([`'${name}`, `'${name}`]);
    },
  );

  test('lets no separator of another country begin a cell', () => {
    const csv = debtorsCsv([debtorOf('Ada;=1+1')], 'GBP');
    expect(csv.split('\r\n')[1]).toMatch(/^"Ada;=1\+1",/);
  });

  test('writes amounts in the units of the currency', () => {
    expect(cells(debtorsCsv([debtorOf('Ada')], 'JPY'))[1]?.slice(3, 8)).toEqual(['JPY', '12345', '0', '5', '12340']);
    expect(cells(debtorsCsv([debtorOf('Ada')], 'GBP'))[1]?.slice(4, 8)).toEqual(['123.45', '0.00', '0.05', '123.40']);
  });
});

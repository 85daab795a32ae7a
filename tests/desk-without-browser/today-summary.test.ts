import { expect, test } from 'vitest';
import { formatterFor } from '../../src/desk/format/formatter.js';
import type { Today } from '../../src/desk/pages/today/labels.js';
import { sentencesOf } from '../../src/desk/pages/today/summary.js';

const formatter = formatterFor({ currency: 'GBP', locale: 'en-GB', timeZone: 'Europe/London' });

const QUIET_DAY: Today = {
  ...{ day: '2026-06-10', now: '2026-06-10T08:00:00Z', sessions: [], nextSessionsOn: null, firings: [], kilns: [] },
  ...{ boards: [], collection: { makers: 0, told: 0, longestDays: null }, orders: [], counts: [] },
  ...{ debts: null, refundsDue: null, mail: null },
};
const FIRING: Today['firings'][number] = {
  ...{ firingId: 'f', number: 15, kilnId: 'k', kiln: 'Big kiln', kind: 'glaze', schedule: 'Slow', do: 'unload' },
  ...{ from: '2026-06-09T05:00:00Z', to: '2026-06-10T06:40:00Z', pieces: 9, fillPercent: '64' },
  ...{ coldSince: '2026-06-10T06:40:00Z', layers: [], cautions: [] },
};
const SESSION: Today['sessions'][number] = {
  ...{ sessionId: 's', courseId: 'c', title: 'Lidded jars', purpose: 'making', room: 'Long room', tutors: [] },
  ...{
    startsAt: '2026-06-10T18:00:00Z',
    endsAt: '2026-06-10T20:00:00Z',
    booked: 7,
    places: 8,
    coming: [],
    hazards: [],
  },
};
const ORDER: Today['orders'][number] = {
  ...{ materialId: 'm', name: 'grogged stoneware', unit: 'g', isMixed: false, packs: 2, packQuantity: 12_500 },
  ...{ orderBy: '2026-06-12', shortOn: '2026-06-20', sure: true },
};
const DEBTS: NonNullable<Today['debts']> = {
  ...{
    people: 2,
    dueMinor: 768,
    owedMinor: 1368,
    firingPeople: 2,
    firingOwedMinor: 1368,
    heldPeople: 0,
    heldMinor: 0,
    top: [],
  },
};

const said = (changes: Partial<Today>): string =>
  sentencesOf({ ...QUIET_DAY, ...changes }, formatter)
    .map((phrase) => (typeof phrase === 'string' ? phrase : phrase.text))
    .join('')
    .trim();

test('says in the studio’s own time what to unload, teach and order, and who still owes', () => {
  expect(said({ firings: [FIRING], sessions: [SESSION], orders: [ORDER], debts: DEBTS })).toBe(
    'Unload glaze firing 15 (cold since 7:40), teach Lidded jars at 19:00 (7 booked) and order 25\u00a0kg of grogged stoneware by Friday. ' +
      'Two people still owe £13.68 (£7.68 is due).',
  );
});

test('says of a day without a duty what comes next', () => {
  expect(said({})).toBe('Nothing needs doing today. No session is planned yet.');
  const next = { ...SESSION, startsAt: '2026-06-13T09:00:00Z' };
  expect(said({ sessions: [next], nextSessionsOn: '2026-06-13' })).toBe(
    'Nothing needs doing today. Next comes Lidded jars on Saturday at 10:00.',
  );
});

test('says when a firing to load starts, or was to start', () => {
  const load = (from: string) => said({ firings: [{ ...FIRING, do: 'load', from, to: '2026-06-12T06:40:00Z' }] });
  expect(load('2026-06-11T07:00:00Z')).toBe('Load glaze firing 15 (it starts tomorrow at 8:00).');
  expect(load('2026-06-09T07:00:00Z')).toBe('Load glaze firing 15 (it was to start yesterday at 8:00).');
});

test('counts what would be too many names, and orders at once what is overdue', () => {
  const firings = [1, 2, 3].map((number) => ({ ...FIRING, number }));
  expect(said({ firings })).toBe('Unload three firings.');
  const late = { ...ORDER, packs: 1, packQuantity: 800, orderBy: '2026-06-08' };
  expect(said({ orders: [late] })).toBe('Order 800\u00a0g of grogged stoneware at once.');
  expect(said({ orders: [{ ...late, isMixed: true }] })).toBe('Mix 800\u00a0g of grogged stoneware at once.');
});

test('tells of a firing that runs, of ware kept too long and of letters that did not arrive', () => {
  const piece = { late: true } as Today['boards'][number]['pieces'][number];
  const failed = [{} as NonNullable<Today['mail']>['failed'][number]];
  expect(
    said({
      firings: [{ ...FIRING, do: 'wait', to: '2026-06-11T17:00:00Z', coldSince: null }],
      boards: [{ waiting: 'collection', pieces: [piece], inAll: 1, lateInAll: 1, next: null }],
      collection: { makers: 1, told: 1, longestDays: 41 },
      mail: { failed },
    }),
  ).toBe(
    'Nothing needs doing today. No session is planned yet. ' +
      'Glaze firing 15 can be unloaded tomorrow at 18:00, one piece has waited 41 days to be collected and one email did not arrive.',
  );
});

test('each phrase that is a figure leads to its place on the page', () => {
  const phrases = sentencesOf({ ...QUIET_DAY, firings: [FIRING], orders: [ORDER], debts: DEBTS }, formatter);
  const places = phrases.flatMap((phrase) => (typeof phrase === 'string' ? [] : [phrase.to]));
  expect(places).toEqual(['#firing-15', '#orders', '#owes']);
});

test('says that a firing to start was to start, and no more of a session that is over', () => {
  const start = (from: string) => said({ firings: [{ ...FIRING, do: 'start', from, to: '2026-06-12T06:40:00Z' }] });
  expect(start('2026-06-10T09:00:00Z')).toBe('Start glaze firing 15 at 10:00.');
  expect(start('2026-06-10T07:00:00Z')).toBe('Start glaze firing 15 (it was to start at 8:00).');
  expect(start('2025-11-25T08:00:00Z')).toBe('Start glaze firing 15 (it was to start on 25 November 2025 at 8:00).');
  const over = { ...SESSION, startsAt: '2026-06-10T06:00:00Z', endsAt: '2026-06-10T07:59:00Z' };
  expect(said({ sessions: [over] })).toBe('Nothing needs doing today. Today’s sessions are over.');
  expect(said({ sessions: [over, SESSION] })).toBe('Teach Lidded jars at 19:00 (7 booked).');
});

test('says to whom a refund is due', () => {
  const due = {
    bookingId: 'b',
    personId: 'p',
    personName: 'Mo',
    what: 'Two mugs',
    amountMinor: 2500,
    since: '2026-06-09',
  };
  expect(said({ refundsDue: [due] })).toContain('A refund of £25 is due to Mo.');
  expect(said({ refundsDue: [due, { ...due, bookingId: 'c' }] })).toContain('Two refunds totalling £50 are due.');
});

test('tells a day with its year where that is not this one', () => {
  const { date, longDay, day } = formatterFor({
    currency: 'GBP',
    locale: 'en-GB',
    timeZone: 'Europe/London',
    today: '2026-06-10',
  });
  expect([date('2026-12-04'), date('2025-12-04')]).toEqual(['4 December', '4 December 2025']);
  expect([longDay('2026-12-04'), longDay('2027-01-04')]).toEqual(['Friday 4 December', 'Monday 4 January 2027']);
  expect([day('2025-12-04', '2026-06-10'), day('2026-06-20', '2026-06-10')]).toEqual(['4 December 2025', '20 June']);
  expect(formatter.date('2026-12-04')).toBe('4 December 2026'); // where nobody says what year it is
});

import { readdir } from 'node:fs/promises';
import { afterAll, afterEach, describe, expect, test } from 'vitest';
import { writePapers } from '../../src/commands/demo/documents.js';
import { loadDemo } from '../../src/commands/demo/load.js';
import { report } from '../../src/commands/demo/report/report.js';
import { openDatabase } from '../../src/database/client.js';
import { listLapsedHolds } from '../../src/studio/bookings/queries.js';
import { findBrokenRules } from '../invariants.js';
import { cloneTemplate } from '../support/database.js';
import { cloneDemo, SEEDED } from '../support/demo.js';
import { folder } from '../support/embedded.js';

const homeZone = process.env.TZ;
afterEach(() => {
  if (homeZone === undefined) delete process.env.TZ;
  else process.env.TZ = homeZone;
});

/** The invented studio on a day, in a database of its own. */
async function demoOn(instant: string) {
  const { db, close } = await openDatabase(await cloneTemplate());
  afterAll(close);
  const now = new Date(instant);
  await loadDemo(db, now);
  return { db, now, sections: await report(db, now) };
}

/** The amounts on a line of the report, in pence. */
const amounts = (line: string) =>
  [...line.matchAll(/(−?)£([\d,]+)(?:\.(\d\d))?/g)].map(([, minus, pounds = '', pence = '00']) =>
    Number(`${minus && '-'}${pounds.replaceAll(',', '')}${pence}`),
  );
const sum = (numbers: readonly number[]) => numbers.reduce((total, n) => total + n, 0);
/** What a section says of the money in it: the sentence first, then the last column of its table; words may go on below a line. */
function money(section = '') {
  const [, answer = '', ...tables] = section.split('\n\n');
  const rows = tables.join('\n').split('\n').slice(2);
  return {
    answer: amounts(answer),
    rows,
    column: rows.filter((row) => / {2}−?£[\d,.]+$/.test(row)).map((row) => amounts(row).at(-1)),
  };
}

const first = await firstMorning();

async function firstMorning() {
  const { db, close } = await openDatabase(await cloneDemo());
  afterAll(close);
  const now = new Date(SEEDED);
  return { db, now, sections: await report(db, now) };
}

describe('the report', () => {
  const [price, bookings, group, bench, shelf, orders, firing, debts, over] = first.sections;

  test('answers each question of the job', () => {
    expect(first.sections.map((section) => section.split('\n')[0])).toEqual([
      'What must "Lidded jars" cost?',
      'Who is coming to "Lidded jars"?',
      'What must the private session "Halina’s table of friends" cost?',
      'What must a visit to "Open bench" cost?',
      'Is there enough on the shelf?',
      'What needs ordering?',
      'What did the glaze firing cost, and who pays for it?',
      'Who owes what?',
      'What did "Two bowls and a mug" really cost?',
    ]);
    for (const section of first.sections) expect(section).not.toMatch(/undefined|NaN|null|\[object|Infinity/);
  });

  test('shows a price for each number of students, whose likelihoods make a whole', () => {
    const ladder = [...(price ?? '').matchAll(/^ {2}(\d+)(?: \(does not run\))? +([\d.]+)%/gm)];
    expect(ladder.map(([, students]) => Number(students))).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
    expect(sum(ladder.map(([, , likely]) => Number(likely)))).toBeGreaterThan(99.5);
    expect(sum(ladder.map(([, , likely]) => Number(likely)))).toBeLessThanOrEqual(100.4);
  });

  test('says of each cost where its rate comes from: the latest lot, the mean of the metered firings', async () => {
    expect(price).toMatch(/Heron stoneware.*Lot of 3 March 2026/);
    for (const kind of ['bisque', 'glaze'] as const) {
      const where = { schedule: { kind }, kiln: { name: 'Front kiln' }, state: 'settled' as const };
      const { _count, _avg } = await first.db.firing.aggregate({ where, _count: true, _avg: { energyKwh: true } });
      expect(_count).toBeGreaterThan(10);
      const mean = Number(_avg.energyKwh?.toFixed(3));
      expect((price ?? '').replace(/\s+/g, ' ')).toContain(`Mean of ${_count} metered firings: ${mean} kWh`);
    }
  });

  test('says from how many courses it learnt how many come', async () => {
    const past = await first.db.course.findMany({
      // one that too few had booked counts from the day on which it was cancelled
      where: { OR: [{ sessions: { some: { ordinal: 1, startsAt: { lt: first.now } } } }, { cancelledFor: 'tooFew' }] },
      include: { plan: true },
    });
    const own = past.filter(({ plan }) => plan.name === 'Lidded jars').length;
    expect(own).toBeGreaterThan(2);
    expect((price ?? '').replace(/\s+/g, ' ')).toContain(
      `How many come: Learnt from ${own} past courses of this plan and ${past.length - own} others:`,
    );
  });

  test('tells the confirmed from the provisional', () => {
    expect(bookings).toContain('5 of 8 places are confirmed and 1 held; 2 are free.');
    expect(bookings).toMatch(/Petra Sollis +provisional until Wednesday 18 March 2026/);
    for (const line of (bookings ?? '').split('\n')) {
      const [asked, paid, owed] = amounts(line);
      if (owed !== undefined && !line.includes('cancelled')) expect(owed, line).toBe((asked ?? 0) - (paid ?? 0));
    }
  });

  test('sets what is on the shelf against those who are booked and expected', () => {
    const told = (shelf ?? '').replace(/\s+/g, ' ');
    expect(told).toMatch(/order \d packs? of Chalk brush-on glaze by \d{1,2} \w+ \d{4}/);
    // what runs short of a mix is mixed, out of parts that must be there
    expect(told).toMatch(/mix 2.00 kg of Night and birch, half and half by \d{1,2} \w+ \d{4}/);
    expect(told).toMatch(/Birch dipping glaze, dry \(for Night and/);
  });

  test('proposes one order for a supplier, carriage and all, and what to mix instead', () => {
    const { answer, rows } = money(orders);
    const costs = rows.filter((row) => row.startsWith('  Quillmouth')).map((row) => amounts(row).at(-1) ?? 0);
    expect(orders).toContain('Carriage');
    expect(sum(costs.slice(0, -1))).toBe(answer[0]); // the last line is the advice
    expect(orders).toContain('Mix 2.00 kg of Night and birch');
  });

  test('prices a group by its heads, and a visit to the open bench', () => {
    const { answer, rows } = money(group);
    const [fair = 0, above = 0] = answer;
    const paid = rows.filter((row) => /^ +\d+ /.test(row)).map((row) => amounts(row)[0]);
    expect(paid).toEqual([...Array.from({ length: 6 }, () => fair), fair + above, fair + 2 * above]);
    expect(bench).toMatch(/An evening on which nobody comes\s+costs\s£\d+(\.\d\d)?,\s+your\s+time\s+included\./);
  });

  test("splits the firing so that the shares and the studio's part make its cost", () => {
    const { answer, rows } = money(firing);
    const [kiln = 0, energy = 0, wear = 0, labour = 0, cost = 0] = answer;
    expect([energy + wear, kiln + labour]).toEqual([kiln, cost]);
    const shares = rows.filter((row) => /^ {2}\w{4} .* l +£/.test(row)).map(amounts);
    const empty = amounts(rows.find((row) => row.includes('Empty space')) ?? '');
    expect(shares).toHaveLength(21);
    // electricity and wear, the owner's time, and both: each column adds up to its total, and each line to its share
    const columns = [0, 1, 2].map((i) => sum([...shares, empty].map((each) => each[i] ?? 0)));
    expect(columns).toEqual([kiln, labour, cost]);
    expect(amounts(rows.find((row) => /^ +Total /.test(row)) ?? '')).toEqual(columns);
    for (const [parts = 0, time = 0, share = 0] of shares) expect(parts + time).toBe(share);
    // 56.3 kWh at 27.40 p by day: the meter's figures and the tariff of the seeds
    expect(firing).toContain('18422.6 to 18478.9, 56.3 kWh');
  });

  test('adds up what is owed, firing apart', () => {
    const { answer, rows: all } = money(debts);
    const rows = all.filter((row) => / £[\d,.]+ +£[\d,.]+$/.test(row)); // what a firing's share is made of goes on below it
    expect(rows.some((row) => row.includes('material  ') && amounts(row).at(-1) === 576)).toBe(true); // 120 ml at 48.00 a litre
    expect(sum(rows.map((row) => amounts(row).at(-1) ?? 0))).toBe(answer[0]);
    const fees = rows.filter((row) => row.includes('firing fee')).map((row) => amounts(row).at(-1) ?? 0);
    expect(sum(fees)).toBe(answer[1]);
    expect(sum(rows.map((row) => amounts(row).at(-2) ?? 0))).toBe(answer[2]); // what of it is due
    expect((debts ?? '').replace(/\s+/g, ' ')).toContain(
      '£130 is asked for held places, and not owed until they are confirmed.',
    );
    expect(rows.filter((row) => / held +£0\.00 +£0\.00$/.test(row))).toHaveLength(1);
  });

  test('sets a past course against its plan, by the lines of which both sides are known', () => {
    const { answer, rows } = money(over);
    const known = rows.map(amounts).filter((each) => each.length === 3);
    const [takings = [], ...costs] = known.slice(0, -1);
    const left = [0, 1].map((i) => (takings[i] ?? 0) - sum(costs.map((cost) => cost[i] ?? 0)));
    const better = sum(known.slice(0, -1).map((each) => each[2] ?? 0));
    expect(known.at(-1)).toEqual([...left, better]);
    expect(answer.slice(0, 3)).toEqual([left[1], left[0], Math.abs(better)]);
    expect((left[1] ?? 0) - (left[0] ?? 0)).toBe(better);
    expect(rows.filter((row) => row.includes('not known')).length).toBeGreaterThan(0);
  });

  test('fits a terminal: no line is longer than 120 signs', () => {
    const long = first.sections.flatMap((section) => section.split('\n')).filter((line) => line.length > 120);
    expect(long).toEqual([]);
  });
});

test('each paper is written under its own name', async () => {
  const place = await folder();
  const papers = await writePapers({ db: first.db, now: () => first.now }, place);
  expect((await readdir(place)).sort()).toEqual(papers.map(({ fileName }) => fileName).sort());
  const sentLongAgo = await first.db.notice.count({
    where: { documentId: { not: null }, deliveries: { some: { outcome: 'sent' } } },
  });
  expect(sentLongAgo).toBeGreaterThan(200);
  expect(papers).toHaveLength((await first.db.document.count()) - sentLongAgo);
  expect(new Set(papers.map(({ kind }) => kind))).toEqual(
    new Set(['receipt', 'creditNote', 'collectionNotice', 'voucher', 'order']),
  );
});

test('it is a year of a studio, with its misfortunes', async () => {
  const { db } = first;
  expect(await db.person.count()).toBe(60);
  expect(await db.person.count({ where: { memberSince: { not: null } } })).toBeGreaterThan(4);
  expect(await db.course.count({ where: { completedOn: { not: null } } })).toBe(20);
  const now = { gt: new Date(SEEDED) };
  expect(await db.course.count({ where: { cancelledAt: null, sessions: { every: { startsAt: now } } } })).toBe(8);
  const cancelled = await db.course.findMany({ where: { cancelledAt: { not: null } }, include: { bookings: true } });
  expect(cancelled).toMatchObject([{ title: 'Plates for a table', cancelledFor: 'tooFew', bookings: [{}, {}] }]);
  expect(await db.session.count({ where: { cancelledAt: { not: null }, course: { cancelledAt: null } } })).toBe(1);
  expect(await db.notice.count({ where: { occasion: 'sessionMoved' } })).toBeGreaterThan(1);
  expect(await db.piece.count()).toBeGreaterThanOrEqual(400);
  expect(await db.firing.count({ where: { state: 'settled' } })).toBeGreaterThanOrEqual(30);
  expect(await db.firing.count({ where: { state: 'failed' } })).toBe(1);
  for (const outcome of ['refire', 'broken'] as const)
    expect(await db.placement.count({ where: { outcome, firing: { state: 'settled' } } })).toBeGreaterThan(0);
  expect(await db.place.count({ where: { concessionId: { not: null } } })).toBe(1);
  expect(await db.sale.count()).toBe(2);
  expect(await db.takingBack.count()).toBe(1);
  expect(await db.voucher.count()).toBe(1);
  expect(await db.supplyOrderEvent.count({ where: { kind: 'placed' } })).toBe(2);
  expect(await db.consignment.count()).toBe(2);
  expect(await db.courseHours.count()).toBe(30);
  expect(await db.priceQuote.count()).toBe(4);
  expect(await db.booking.count({ where: { cancelledAt: { not: null } } })).toBe(4);
  const standing = await db.piece.groupBy({ by: ['stage'], _count: true });
  for (const stage of ['greenware', 'dry', 'bisque', 'glazed', 'fired', 'ready'])
    expect(standing.find((one) => one.stage === stage)?._count, stage).toBeGreaterThan(0);
  expect(await findBrokenRules(db)).toEqual([]);
});

test('mixes of glazes, and tiles', async () => {
  const { db } = first;
  expect([await db.mix.count(), await db.mixBatch.count(), await db.testTile.count()]).toEqual([2, 3, 4]);
  // nothing had to be taken as found: the seeds hold what the batches draw
  const mixed = await db.mixDraw.findMany({ include: { move: { include: { lot: true } } } });
  expect(mixed.every(({ move }) => move.lot.supplier !== null)).toBe(true);
});

test('letters of long ago went out at their time; only those of the last two weeks wait', async () => {
  const { db } = first;
  const waiting = await db.notice.findMany({ where: { deliveries: { none: {} } } });
  const recent = new Date('2026-02-24T00:00:00Z');
  for (const { createdAt } of waiting) expect(createdAt >= recent).toBe(true);
  const [queue] = await db.$queryRaw<{ jobs: number }[]>`SELECT count(*)::int AS jobs FROM graphile_worker.jobs`;
  expect(queue?.jobs).toBe(waiting.length);
  const past = await db.delivery.findMany({ include: { notice: { include: { person: true } } } });
  for (const { at, outcome, notice } of past) {
    expect(at).toEqual(notice.createdAt);
    expect(outcome).toBe(notice.person.email === null ? 'noAddress' : 'sent');
  }
});

test.each(['Pacific/Auckland', 'America/Los_Angeles'])(
  'the same day is the same to the letter, in %s too',
  async (zone) => {
    process.env.TZ = zone;
    expect(Intl.DateTimeFormat().resolvedOptions().timeZone).toBe(zone);
    const { sections, db } = await demoOn(SEEDED);
    expect(sections).toEqual(first.sections);
    expect(await findBrokenRules(db)).toEqual([]);
  },
);

// the last day of a leap February, both clock changes of the studio's zone (29 March, 25 October 2026), minutes to midnight
test.each(['2026-03-16T23:59:00Z', '2026-03-29T00:30:00Z', '2026-10-25T01:30:00Z', '2028-02-29T12:00:00Z'])(
  'on %s its story is as whole as on the first day',
  async (instant) => {
    const { sections, db, now } = await demoOn(instant);
    expect(await findBrokenRules(db)).toEqual([]);
    expect(sections).toHaveLength(first.sections.length);
    expect(await db.session.count({ where: { startsAt: { gt: now } } })).toBeGreaterThan(0);
    expect(await db.journalEntry.count({ where: { at: { gt: now } } })).toBe(0);
    expect(await listLapsedHolds(db, now)).toEqual([]);
    for (const i of [0, 6, 7]) expect(money(sections[i]).answer).toEqual(money(first.sections[i]).answer);
    for (const i of [6, 7]) expect(money(sections[i]).column).toEqual(money(first.sections[i]).column);
    expect(sections[1]).toMatch(/It begins on Tuesday \d+ \w+ \d{4},\s19:00\./);
  },
);

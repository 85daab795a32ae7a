import { DemoEvent } from './event-log.js';
import type { Seeds } from './seeds.js';
import type { Tables } from './tables.js';

/** All that happened, by time: the lines of the tables as entries, among those of the diary. @throws ZodError on a line that can't be */
export function timelineOf(seeds: Seeds): DemoEvent[] {
  const told = [
    ...seeds.stock.map((row) => ({ ...row, costMinor: Number(row.costMinor) })),
    ...seeds.bookings.flatMap(booked),
    ...takenIn(seeds.ware),
    ...seeds.firings.flatMap(fired),
    ...seeds.courses.flatMap(({ called, completed }) =>
      completed === '' ? [] : [{ at: completed, did: 'complete', course: called }],
    ),
    ...seeds.hours.map((row) => ({ ...row, did: 'hours' })),
    ...seeds.collections.map((row) => ({ ...row, did: 'collect' })),
  ];
  const entries = [...told.map((entry) => DemoEvent.parse(entry)), ...seeds.diary];
  return entries.sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0));
}

function booked({ at, course, payer, attendees, ...row }: Tables['bookings'][number]) {
  const paid = (when: string, amount: string, method: string) =>
    when === '' ? [] : [{ at: when, did: 'pay', payer, course, amount, method }];
  return [
    { at, did: 'book', course, payer, attendees: attendees.split('|') },
    ...paid(row.depositPaid, 'deposit', row.depositBy),
    ...paid(row.restPaid, 'rest', row.restBy),
  ];
}

/** Lines of one maker at one time are one intake. */
function takenIn(rows: Tables['ware']) {
  const intakes = new Map<string, Tables['ware']>();
  for (const row of rows) {
    const key = `${row.at} ${row.maker} ${row.board}`;
    intakes.set(key, [...(intakes.get(key) ?? []), row]);
  }
  return [...intakes.values()].map((same) => {
    const { at, maker, course, paidBy, board, stage } = same[0] as Tables['ware'][number];
    const ware = same.map(({ form, size, description, clay, count }) => ({
      ...{ form, size: sizeOf(size), description, clay, count },
    }));
    return { at, did: 'intake', maker, course: course || null, paidBy, board, stage, ware };
  });
}

/** "medium", or width x depth x height in millimetres */
function sizeOf(size: string) {
  const [widthMm, depthMm, heightMm] = size.split(' x ').map(Number);
  return depthMm === undefined ? size : { widthMm, depthMm, heightMm };
}

function fired(firing: Tables['firings'][number]) {
  const { at, end, unload } = firing;
  return [{ at, did: 'fire', firing }, ...(end === '' ? [] : [{ at: unload, did: 'unload', firing }])];
}

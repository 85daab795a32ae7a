import jsonld from 'jsonld';
import ical, { type VEvent } from 'node-ical';
import { describe, expect, test } from 'vitest';
import { calendarFile } from '../../../src/studio/web-page/calendar-file.js';
import { htmlFragment } from '../../../src/studio/web-page/html-fragment.js';
import type { PublicCourse, PublicCourses } from '../../../src/studio/web-page/public-courses.js';
import { structuredData } from '../../../src/studio/web-page/structured-data.js';
import { instantAt } from '../../../src/trade/calendar/calendar.js';

// Read back by jsonld, the registry's processor of JSON-LD 1.1. Which property belongs to which type is from the published pages
// schema.org/Course, /CourseInstance, /Event, /Offer, /Place, /Organization and /Person, written down here from memory: nothing is
// fetched. CourseInstance is an Event, so it has all that an Event has.
const THING = ['name'];
const EVENT = [
  ...[...THING, 'startDate', 'endDate', 'eventStatus', 'eventAttendanceMode', 'location', 'organizer'],
  ...['remainingAttendeeCapacity', 'offers', 'subEvent'],
];
const PROPERTIES: Record<string, readonly string[]> = {
  Course: [...THING, 'provider', 'hasCourseInstance'],
  CourseInstance: [...EVENT, 'courseMode', 'instructor'],
  Event: EVENT,
  Offer: ['price', 'priceCurrency', 'availability'],
  Place: [...THING, 'address'],
  Organization: THING,
  Person: THING,
};
/** The part of schema.org's context that matters here: every term is one of schema.org, and these name things by their address. */
const byAddress = { '@type': '@id' };
const CONTEXT = {
  '@vocab': 'http://schema.org/',
  ...{ availability: byAddress, eventStatus: byAddress, eventAttendanceMode: byAddress },
};
const SCHEMA = 'http://schema.org/';
const documentLoader = async (url: string) => {
  if (url !== 'https://schema.org') throw new Error(`${url} is not read here.`);
  return { documentUrl: url, document: { '@context': CONTEXT } };
};

type Node = Record<string, unknown[]> & { '@type': string[] };
const expanded = async (shown: PublicCourses) =>
  (await jsonld.expand(structuredData(shown) as never, { documentLoader } as never)) as unknown as Node[];
const of = (node: unknown, name: string) => (node as Node)[`${SCHEMA}${name}`] ?? [];
const textOf = (node: unknown, name: string) => {
  const [first] = of(node, name) as { '@value'?: unknown; '@id'?: string }[];
  return first?.['@value'] ?? first?.['@id'];
};

function* nodesIn(value: unknown): Generator<Node> {
  if (Array.isArray(value)) for (const each of value) yield* nodesIn(each);
  else if (typeof value === 'object' && value !== null) {
    if ('@type' in value && Array.isArray(value['@type'])) yield value as Node;
    for (const each of Object.values(value)) yield* nodesIn(each);
  }
}

const ID = '01900000-0000-7000-8000-00000000000';
const at = (n: number, day: string, time: string, timeZone: string) => {
  const startsAt = instantAt(day, time, timeZone);
  return { id: `${ID}${n}`, sequence: 0, startsAt, endsAt: new Date(startsAt.getTime() + 150 * 60_000), tutors: [] };
};
const shownIn = (timeZone: string, days: string[], changes: Partial<PublicCourse> = {}): PublicCourses => {
  const [first = '', ...others] = days;
  const sessions: PublicCourse['sessions'] = [
    at(1, first, '19:00', timeZone),
    ...others.map((day, i) => at(i + 2, day, '19:00', timeZone)),
  ];
  return {
    askAt: null,
    studio: {
      name: 'Alder Lane Pottery',
      addressLines: ['7 Alder Lane', 'Ostlemere'],
      currency: 'GBP',
      locale: 'en-GB',
      timeZone,
    },
    courses: [
      {
        id: `${ID}9`,
        kind: 'course',
        ...{ bookableFrom: null, bookableUntil: null, closedBecause: null },
        title: 'Bowls',
        priceMinor: 12_050,
        places: 8,
        placesLeft: 3,
        sessions,
        ...changes,
      },
    ],
  };
};
const LONDON = shownIn('Europe/London', ['2026-04-14', '2026-04-21']);

describe('the data of coming courses', () => {
  test('are by the shapes of schema.org: no type has what it does not know', async () => {
    const [session] = LONDON.courses[0]?.sessions ?? [];
    const named =
      session && shownIn('Europe/London', ['2026-04-14'], { sessions: [{ ...session, tutors: ['Mara Lind'] }] });
    const visit = shownIn('Europe/London', ['2026-04-14'], { kind: 'openStudio', placesLeft: 0 });
    const seen = new Set<string>();
    for (const shown of [LONDON, named ?? LONDON, visit])
      for (const node of nodesIn(await expanded(shown))) {
        const type = node['@type'][0]?.replace(SCHEMA, '') ?? '';
        seen.add(type);
        const names = Object.keys(node).filter((name) => !name.startsWith('@'));
        for (const name of names) expect(PROPERTIES[type], type).toContain(name.replace(SCHEMA, ''));
      }
    expect([...seen].sort()).toEqual(Object.keys(PROPERTIES).sort());
  });

  test('say of a course when, where, by whom, for how much, and how many can still come', async () => {
    const [course] = await expanded(LONDON);
    expect(course?.['@type']).toEqual([`${SCHEMA}Course`]);
    const [instance] = of(course, 'hasCourseInstance');
    const told = ['name', 'startDate', 'endDate', 'remainingAttendeeCapacity'].map((name) => textOf(instance, name));
    expect(told).toEqual(['Bowls', '2026-04-14T19:00:00+01:00', '2026-04-21T21:30:00+01:00', 3]);
    const [offer] = of(instance, 'offers');
    const price = ['price', 'priceCurrency', 'availability'].map((name) => textOf(offer, name));
    expect(price).toEqual(['120.50', 'GBP', 'https://schema.org/InStock']);
    expect(textOf(of(instance, 'location')[0], 'address')).toBe('7 Alder Lane, Ostlemere');
    expect(textOf(of(instance, 'organizer')[0], 'name')).toBe('Alder Lane Pottery');
    expect(of(instance, 'subEvent').map((event) => textOf(event, 'startDate'))).toEqual([
      '2026-04-14T19:00:00+01:00',
      '2026-04-21T19:00:00+01:00',
    ]);
  });

  test('say that a full visit to the open studio is sold out', async () => {
    const [visit] = await expanded(shownIn('Europe/London', ['2026-04-14'], { kind: 'openStudio', placesLeft: 0 }));
    expect(visit?.['@type']).toEqual([`${SCHEMA}Event`]);
    expect(textOf(visit, 'remainingAttendeeCapacity')).toBe(0);
    expect(textOf(of(visit, 'offers')[0], 'availability')).toBe('https://schema.org/SoldOut');
  });
});

// When clocks change: the IANA time zone database, as the European Union (last Sundays of March and October) and Tasmania (first
// Sundays of April and October) have laid it down for 2026.
describe.each([
  ['Europe/London', ['2026-03-28', '2026-03-29'], ['+00:00', '+01:00']],
  ['Europe/London', ['2026-10-24', '2026-10-25'], ['+01:00', '+00:00']],
  ['Australia/Hobart', ['2026-04-04', '2026-04-05'], ['+11:00', '+10:00']],
  ['Australia/Hobart', ['2026-10-03', '2026-10-04'], ['+10:00', '+11:00']],
])('an evening at seven in %s on the days around a change of the clock, %j,', (zone, days, offsets) => {
  const shown = shownIn(zone, days);
  const expectedStarts = days.map((day, i) => `${day}T19:00:00${offsets[i]}`);

  test('is at seven in each form, with the offset of its own day', async () => {
    const [course] = await expanded(shown);
    const events = of(of(course, 'hasCourseInstance')[0], 'subEvent');
    expect(events.map((event) => textOf(event, 'startDate'))).toEqual(expectedStarts);
    const html = htmlFragment(shown);
    expect(
      [...html.matchAll(/<time datetime="([^"]+)">[^<]+, 19:00 to 21:30<\/time>/g)].map(([, moment]) => moment),
    ).toEqual(expectedStarts);
    const inCalendar = Object.values(ical.sync.parseICS(calendarFile(shown, new Date('2026-03-10T09:00:00Z')))).filter(
      (part): part is VEvent => part?.type === 'VEVENT',
    );
    expect(inCalendar.map(({ start }) => start?.getTime())).toEqual(expectedStarts.map((moment) => Date.parse(moment)));
    expect(inCalendar[0]).toMatchObject({
      location: 'Alder Lane Pottery, 7 Alder Lane, Ostlemere',
      status: 'CONFIRMED',
    });
    expect(inCalendar[0]?.description ?? '').toBe('');
  });
});

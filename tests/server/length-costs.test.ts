import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { signIn } from '../../src/studio/staff/sign-in.js';
import { testApp } from '../support/app.js';
import type { JsonSchema } from '../support/arbitrary.js';
import { studioFixture } from '../support/fixtures.js';
import { DEAR_SIGNS, type Lengths, longValue, textOf } from '../support/long-values.js';
import { elsewhere, type Operation, operations, somewhere } from '../support/operations.js';

// What a request costs grows with its length and no faster, whatever stands in it: else one of 100 kB could keep the process busy for
// minutes. Cost is the time of this process's own processor, so that it says the same on a machine with much else to do.

const { app, db, clock, owner, ownerMember } = await testApp();
const all = await operations(app);
const { schemas } = (app.swagger() as { components: { schemas: Record<string, JsonSchema> } }).components;
const cookie = `wareboard=${await signIn(db, clock.now(), { email: ownerMember.email, password: 'a long test password' })}`;

const TIMES_LONGER = 4;
/** Four times as long costs four times as much, or sixteen times where it grows by the square. */
const TIMES_DEARER_MAX = 8;
/** What a request costs anyhow, with a garbage collection thrown in. */
const ANYHOW_MILLISECONDS = 40;
const ATTEMPTS = 3;
const BODY_BYTES = 1_000_000;
const LONG = 3000;

async function cost(work: () => Promise<unknown>): Promise<number> {
  const before = process.cpuUsage();
  await work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

const expectToGrowWithLength = (name: string, length: number, send: (length: number) => Promise<unknown>) =>
  expectNotDearer(`${name}, ${length} signs and ${TIMES_LONGER} times as many`, async () => [
    await cost(() => send(length)),
    await cost(() => send(length * TIMES_LONGER)),
  ]);

/** Fails where the second costs far more than the first; what comes in between may spoil a measure, but not each of them. */
async function expectNotDearer(name: string, measure: () => Promise<[number, number]>) {
  const seen: string[] = [];
  for (let attempt = 1; attempt <= ATTEMPTS; attempt++) {
    const [plain, dear] = await measure();
    if (dear <= plain * TIMES_DEARER_MAX + ANYHOW_MILLISECONDS) return;
    seen.push(`${plain.toFixed(0)} and ${dear.toFixed(0)} ms`);
  }
  expect.fail(`${name} cost ${seen.join(', ')}.`);
}

const headersOf = (type: string) => ({
  ...{ cookie, 'sec-fetch-site': 'same-origin', 'content-type': type, 'if-match': '*' },
  'idempotency-key': `"${randomUUID()}"`,
});
const send = ({ method, path }: Operation, payload: string, type = 'application/json') =>
  app.inject({ method, url: somewhere(path), payload, headers: headersOf(type), remoteAddress: elsewhere() });

const isFree = ({ enum: few }: JsonSchema) => few === undefined;
const free = (text: string): Lengths => ({ text: (schema) => (isFree(schema) ? text : undefined), items: 1 });
const bytesOf = (body: unknown) => Buffer.byteLength(JSON.stringify(body));

/** How long each text of a body may be so that the body, so many times as long, is still let in. */
function lengthFor(body: JsonSchema, sign: string): number {
  const [none, some] = [0, 1200].map((length) => bytesOf(longValue(body, schemas, free(textOf(sign, length)))));
  const bytesPerSign = ((some ?? 0) - (none ?? 0)) / 1200;
  return Math.min(LONG, Math.floor(BODY_BYTES / TIMES_LONGER / bytesPerSign));
}

const signs = Object.entries(DEAR_SIGNS);

describe('a body costs as much as its length', () => {
  const bodies = all.filter(({ body }) => body !== undefined && body.type !== 'string');
  const written = (o: Operation) => JSON.stringify(longValue(o.body as JsonSchema, schemas, free('§§')));
  const withText = bodies.filter((o) => written(o).includes('§§'));
  const withLists = bodies.filter((o) => written(o).includes('['));

  test('there are many that hold texts, and many that hold lists', () => {
    expect(withText.length).toBeGreaterThan(40);
    expect(withLists.length).toBeGreaterThan(15);
  });

  test.each(withText.map((o) => [o.name, o] as const))('%s, its texts too long', async (_, o) => {
    const body = o.body as JsonSchema;
    for (const [what, sign] of signs)
      await expectToGrowWithLength(`${o.name} of ${what}`, lengthFor(body, sign), async (length) => {
        const answer = await send(o, JSON.stringify(longValue(body, schemas, free(textOf(sign, length)))));
        expect([400, 422], answer.body.slice(0, 300)).toContain(answer.statusCode);
      });
  });

  test.each(withText.map((o) => [o.name, o] as const))('%s, its texts as long as may be', async (_, o) => {
    const body = o.body as JsonSchema;
    const longest = (sign: string): Lengths => ({
      text: ({ maxLength, ...of }) => (maxLength && isFree(of) ? textOf(sign, maxLength) : undefined),
      items: 1,
    });
    const costOf = (sign: string) => cost(() => send(o, JSON.stringify(longValue(body, schemas, longest(sign)))));
    for (const [what, sign] of signs)
      await expectNotDearer(`${o.name} of ${what}`, async () => [await costOf('x'), await costOf(sign)]);
  });

  test.each(withLists.map((o) => [o.name, o] as const))('%s, its lists too long', async (_, o) => {
    const body = o.body as JsonSchema;
    const listed = (items: number) => longValue(body, schemas, { text: () => undefined, items });
    const length = Math.floor(BODY_BYTES / TIMES_LONGER / (bytesOf(listed(11)) - bytesOf(listed(10))));
    await expectToGrowWithLength(`${o.name} of items`, Math.min(length, 20_000), async (items) => {
      const answer = await send(o, JSON.stringify(listed(items)));
      expect(answer.statusCode, answer.body.slice(0, 300)).toBeLessThan(500);
    });
  });
});

describe('a list that is brought costs as much as its length', () => {
  const lists = all.filter(({ path, method }) => path.startsWith('/api/imports/') && method === 'POST');
  const headings = async ({ path }: Operation) => {
    const columns = await app.inject({ url: path.replace('/check', ''), headers: { cookie } });
    return columns.json().columns.map(({ heading }: { heading: string }) => heading) as string[];
  };
  beforeAll(() => studioFixture(owner));

  test.each(lists.map((o) => [o.name, o] as const))('%s', async (_, o) => {
    const named = await headings(o);
    for (const [what, sign] of signs) {
      const cell = (length: number) => `"${textOf(sign, length).replaceAll('"', '""')}"`;
      await expectToGrowWithLength(`${o.name}, cells of ${what}`, LONG, async (length) => {
        const answer = await send(o, `${named.join()}\n${named.map(() => cell(length)).join()}`, 'text/csv');
        expect([200, 415, 422], answer.body.slice(0, 300)).toContain(answer.statusCode);
      });
      await expectToGrowWithLength(`${o.name}, headings of ${what}`, LONG * 10, async (length) => {
        const answer = await send(o, `${named[0]},${cell(length)}`, 'text/csv');
        expect([200, 415, 422], answer.body.slice(0, 300)).toContain(answer.statusCode);
      });
    }
  });

  test.each(lists.map((o) => [o.name, o] as const))('%s, of very many columns', async (_, o) => {
    const [first = ''] = await headings(o);
    for (const heading of ['x', first])
      await expectToGrowWithLength(`${o.name}, "${heading}" again and again`, 20_000, async (length) => {
        const answer = await send(o, `${first}${`,${heading}`.repeat(length)}`, 'text/csv');
        expect(answer.body.length).toBeLessThan(100_000);
      });
  });
});

describe('an address and its headers cost as much as their length', () => {
  /** Node takes 16 KB of address and headers at most. */
  const ROOM = 14_000;
  const withPlace = all.flatMap((o) =>
    o.parameters
      .filter((place) => place.in !== 'path' && place.schema.type === 'string') // the server takes 100 signs in a path's place
      .map((place) => [place.in === 'header' ? place.name : `${place.name} of ${o.name}`, o, place] as const),
  );
  const once = [...new Map(withPlace.map((each) => [each[0], each])).values()]; // a header is read alike everywhere

  test.each(once)('%s', async (name, o, place) => {
    for (const [what, sign] of signs) {
      const written = place.in === 'header' ? sign.replace(/[^\x20-\x7e]/g, '\xe4') : sign;
      const each = place.in === 'header' ? 1 : coded(written).length / written.length;
      const longest = Math.floor(ROOM / each);
      await expectToGrowWithLength(`${name} of ${what}`, Math.floor(longest / TIMES_LONGER), async (length) => {
        const answer = await ask(o, place, textOf(written, length));
        expect(answer.statusCode, answer.body).toBeLessThan(500);
      });
    }
  });

  const coded = (text: string) => encodeURIComponent(text.replace(/\p{Cs}/gu, '?'));

  function ask(o: Operation, place: Operation['parameters'][number], text: string) {
    const url = place.in === 'query' ? `${somewhere(o.path)}?${place.name}=${coded(text)}` : somewhere(o.path);
    const headers = {
      ...headersOf('application/json'),
      ...(place.in === 'header' && { [place.name.toLowerCase()]: text }),
    };
    const sent = { method: o.method, url, headers, remoteAddress: elsewhere() };
    return app.inject(o.body ? { ...sent, payload: '{}' } : sent);
  }
});

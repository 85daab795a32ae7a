import { randomUUID } from 'node:crypto';
import { readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import pg from 'pg';
import { addressesOf, filled, idsOf } from '../../tests/support/addresses.js';
import { type Booked, furnish, PAID_MINOR, PLACES } from '../bookings/studio.js';
import type { startServer } from './server.js';

const OWNER = { email: 'mara@alderlane.example', password: 'alder lane demo' };
const AT_ONCE = 4;
/** Of so many requests one books a place, one pays for it, which writes a receipt and a letter, and one asks for a paper. */
const ROUND = 20;
/** The desk's own addresses, whose answers are its files. */
const PAGES = ['/', '/courses', '/people', '/ware', '/kilns', '/shelf', '/money', '/letters', '/studio'];

/** What the server answers where the machine has so much to do that a transaction takes longer than ten seconds. */
const BUSY = 503;

type Server = Awaited<ReturnType<typeof startServer>>;

/** A mixed load, as many requests as four who never pause can send; it goes on until it is told to stop. */
export async function openLoad({ base, data, database }: Server) {
  const client = new pg.Client({ connectionString: database.superuserUrl });
  await client.connect();
  const send = await signedIn(base);
  const reads = await readable(send, client);
  const stock = await furnish(database.superuserUrl, { courses: 200, people: PLACES });
  await client.end();
  const owing: Booked[] = [];
  const told = { requests: 0, bookings: 0, payments: 0, busy: 0 };

  const book = async () => {
    const n = told.bookings++;
    const course = stock.courses[Math.floor(n / PLACES) % stock.courses.length] ?? '';
    const personId = stock.people[n % PLACES] ?? '';
    const answer = await send(`/api/courses/${course}/bookings`, { payerId: personId, attendeeIds: [personId] });
    if (answer.ok) owing.push((await answer.json()) as Booked);
    else told.busy++;
  };
  const pay = async () => {
    const booked = owing.shift();
    if (!booked) return;
    const { payerId: personId, chargeId } = booked;
    const parts = [{ chargeId, amountMinor: PAID_MINOR }];
    const answer = await send('/api/payments', { personId, method: 'cash', for: parts });
    if (answer.ok) told.payments++;
    else told.busy++;
  };
  const turn = async () => {
    const n = told.requests++;
    if (n % ROUND === 0) return book();
    if (n % ROUND === ROUND / 2) return pay();
    const answer = await send(reads[n % reads.length] ?? '/');
    if (!answer.ok) told.busy++;
    await answer.arrayBuffer();
  };
  let isOver = false;
  const working = Array.from({ length: AT_ONCE }, async () => {
    while (!isOver) await turn();
  });
  return {
    ...{ told, reads },
    /** Letters are files here; thousands would fill the disk. */
    async sweep() {
      const outbox = join(data, 'outbox');
      const letters = (await readdir(outbox).catch(() => [])).filter((name) => name.endsWith('.eml')); // the others are being written
      for (const name of letters) await rm(join(outbox, name), { force: true });
    },
    /** Never comes, unless a request fails. */
    failed: Promise.all(working).then(() => new Promise<never>(() => undefined)),
    async stop() {
      isOver = true;
      await Promise.all(working);
    },
  };
}

/** Each request comes from another address: so many from one would be refused. @throws where one fails */
async function signedIn(base: string) {
  let callers = 0;
  let cookie = '';
  const send = async (address: string, body?: object) => {
    const n = ++callers;
    const from = `10.${(n >> 16) % 256}.${(n >> 8) % 256}.${n % 256}`;
    const request = {
      method: body ? 'POST' : 'GET',
      headers: {
        ...{ cookie, 'x-forwarded-for': from, 'sec-fetch-site': 'same-origin' },
        ...(body && { 'content-type': 'application/json', 'idempotency-key': `"${randomUUID()}"` }),
      },
      ...(body && { body: JSON.stringify(body) }),
    };
    // once more where a connection that both had kept was closed at that moment: the key sees to it that nothing is done twice
    const answer = await fetch(base + address, request).catch(() => fetch(base + address, request));
    if (!answer.ok && answer.status !== BUSY)
      throw new Error(`${address}: ${answer.status} ${(await answer.text()).slice(0, 300)}`);
    return answer;
  };
  const entered = await send('/api/sign-in', OWNER);
  cookie = (entered.headers.getSetCookie()[0] ?? '').split(';')[0] ?? '';
  return send;
}

/** Every address of the API that can be read here, papers among them, and the desk's pages. */
async function readable(send: Awaited<ReturnType<typeof signedIn>>, client: pg.Client): Promise<string[]> {
  const { paths } = (await (await send('/openapi.json')).json()) as { paths: Record<string, object> };
  const ids = await idsOf(client);
  const found: string[] = [];
  for (const address of addressesOf(paths).flatMap((each) => filled(each, ids) ?? [])) {
    const answer = await send(address).catch(() => undefined); // the demo has none of it
    await answer?.arrayBuffer();
    if (answer) found.push(address);
  }
  return [...found, ...PAGES];
}

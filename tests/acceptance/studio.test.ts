import { once } from 'node:events';
import { readdir, readFile } from 'node:fs/promises';
import { connect } from 'node:net';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { simpleParser } from 'mailparser';
import { afterAll, describe, expect, test, vi } from 'vitest';
import { isAlive } from '../../src/database/embedded/lodging.js';
import { eraseEmbedded } from '../../src/database/embedded/server.js';
import { readBack } from '../documents/read-back.js';
import { folder, postmasterOf } from '../support/embedded.js';
import { bookingFixture, payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { firingFixture, step } from '../support/fixtures/firings.js';
import { tariffFixture } from '../support/fixtures/kilns.js';
import { boardFixture, MUG, noted, piecesFixture } from '../support/fixtures/ware.js';
import { personFixture } from '../support/fixtures.js';
import { overHttp } from '../support/over-http.js';
import { type Program, run } from '../support/program.js';

// One studio from its first start to a bill and a notice, as its owner lives it: over HTTP only, on a database of the program's own.
const data = await folder();
const postgres = join(data, 'database', 'postgres');
afterAll(async () => {
  served.program.process.kill('SIGKILL');
  await served.program.ended;
  await eraseEmbedded(join(data, 'database'), () => undefined);
});

async function start() {
  const program = run(['serve'], { WAREBOARD_DATA: data, PORT: '0' });
  const [, address = ''] = await program.prints(/^Wareboard is at (http:\S+)$/m);
  return { program, address };
}
/** As long as the program lasts: where it is, and the owner who calls it. */
let served: { program: Program; address: string };
let owner = overHttp('http://127.0.0.1');

const EMAIL = 'mara@alderlane.example';
const PASSWORD = 'three mugs and a jar';
const HOUR = 3_600_000;
const hence = (hours: number) => new Date(Math.floor(Date.now() / 60_000) * 60_000 + hours * HOUR).toISOString();
const pdfOf = async (documentId: string) => {
  const answer = await owner.get(`/api/documents/${documentId}/pdf`);
  expect(answer.headers['content-type']).toBe('application/pdf');
  return answer.rawPayload;
};
const letters = () => readdir(join(data, 'outbox')).catch(() => []);
/** Papers as they were first shown, to be shown for ever. */
const papers = new Map<string, Buffer>();
let chargeId = '';

describe.sequential('a studio', () => {
  test('starts with nothing but a folder, and prints how to set it up', async () => {
    served = await start();
    expect((await fetch(`${served.address}/ready`)).status).toBe(200);
    expect(isAlive(postmasterOf(postgres))).toBe(true);
    const [, link = ''] = await served.program.prints(/within a day: (\S+)$/m);
    const token = new URL(link).hash.slice(1);
    owner = overHttp(served.address);
    const made = await owner.post('/api/set-up', { token, name: 'Mara Lind', email: EMAIL, password: PASSWORD });
    expect(made.statusCode).toBe(201);
    expect(
      (await owner.post('/api/set-up', { token, name: 'X Y', email: 'x@y.example', password: PASSWORD })).statusCode,
    ).toBe(409);
    expect((await owner.post('/api/sign-in', { email: EMAIL, password: PASSWORD })).statusCode).toBe(204);
    expect((await owner.get('/api/me')).json()).toMatchObject({ name: 'Mara Lind', role: 'owner', studio: null });
  });

  test('prices a course, sells it and takes a deposit', async () => {
    const home = await coursesFixture(owner);
    await tariffFixture(owner, { validFrom: '2020-01-01' });
    for (const { id } of [home.clay, home.glaze])
      await owner.post(`/api/materials/${id}/lots`, {
        ...{ supplier: 'Hollow Hill Clays', receivedOn: '2020-01-01', quantity: 12_500, costMinor: 1850 },
      });
    const [first, second] = home.body.sessions;
    const course = await home.addCourse({
      sessions: [
        { ...first, startsAt: hence(480), endsAt: hence(482) },
        { ...second, startsAt: hence(984), endsAt: hence(986) },
      ],
    });
    const price = await owner.get(`/api/courses/${course.id}/price`);
    expect(price.json()).toMatchObject({ title: 'Two mugs', result: { fairPriceMinor: expect.any(Number) } });
    expect(price.json().result.fairPriceMinor % 500).toBe(0);
    const booking = await bookingFixture(owner, course.id, 2);
    expect(booking).toMatchObject({ state: 'provisional', depositMinor: 6000 });
    const paid = await payFor(owner, booking, 6000);
    expect(paid.json()).toMatchObject({ receiptNumber: 'R-000001' });
    expect((await owner.get(`/api/bookings/${booking.id}`)).json()).toMatchObject({
      state: 'confirmed',
      owedMinor: 18_000,
    });
    chargeId = booking.chargeId;
    const receipt = await pdfOf(paid.json().documentId);
    papers.set(paid.json().documentId, receipt);
    const { text, marked } = await readBack(receipt);
    expect(text).toContain('R-000001');
    expect(text).toContain('£60.00');
    expect(marked).toMatchObject({ Marked: true });
  });

  test('fires ware, splits the firing to the penny, bills it and tells its maker', async () => {
    const { items: kilns } = (await owner.get('/api/kilns')).json();
    const { items: schedules } = (await owner.get('/api/schedules')).json();
    const kind = schedules.find((s: { name: string }) => s.name.startsWith('Stoneware'));
    const maker = await personFixture(owner, 'Halina Brzóska');
    const shelf = await boardFixture(owner, { kind: 'collection' });
    const ware = await piecesFixture(owner, maker.id, { stage: 'glazed', ware: [{ ...MUG, count: 3 }] });
    const firing = await firingFixture(
      owner,
      { kilnId: kilns[0].id, scheduleId: kind.id },
      { plannedFrom: hence(-30), plannedTo: hence(-1) },
    );
    await step(owner, firing.id, 'loading', { placements: ware.map(({ id }) => ({ pieceId: id, layer: 1 })) });
    await step(owner, firing.id, 'readings', { at: hence(-30), kwh: '10423.7' });
    await step(owner, firing.id, 'start', { startedAt: hence(-30) });
    await step(owner, firing.id, 'readings', { at: hence(-16), kwh: '10510.1' });
    await step(owner, firing.id, 'unloading', {
      ...{ endedAt: hence(-16), unloadedAt: hence(-1), boardId: shelf.id },
      outcomes: ware.map(({ id }) => ({ pieceId: id, outcome: 'good' })),
    });
    await step(owner, firing.id, 'settlement', {});
    const cost = (await owner.get(`/api/firings/${firing.id}/shares`)).json();
    const shares = cost.shares.map((share: { amountMinor: number }) => share.amountMinor);
    expect(shares.reduce((a: number, b: number) => a + b, cost.studioMinor)).toBe(cost.costMinor);
    const [bill] = (await step<{ items: { grossMinor: number }[] }>(owner, firing.id, 'billing', {})).items;
    await noted(owner, ware, 'ready');
    const [notice] = (await owner.post('/api/collection-notices', {})).json().items;
    expect(notice).toMatchObject({ personName: 'Halina Brzóska', owedMinor: bill?.grossMinor });
    const paper = await pdfOf(notice.documentId);
    papers.set(notice.documentId, paper);
    const { text } = await readBack(paper);
    for (const expected of ['Halina Brzóska', ...ware.map(({ code }) => code)]) expect(text).toContain(expected);
  });

  test('writes each letter to its outbox, with its paper', async () => {
    await vi.waitFor(async () => expect((await letters()).length).toBe(3), { timeout: 30_000, interval: 250 });
    const mails = await Promise.all(
      (await letters()).map(async (name) => simpleParser(await readFile(join(data, 'outbox', name)))),
    );
    const attached = mails.flatMap(({ attachments }) => attachments.map(({ content }) => content.toString('base64')));
    expect(attached.sort()).toEqual([...papers.values()].map((bytes) => bytes.toString('base64')).sort());
    const { items } = (await owner.get('/api/notices')).json();
    expect(items.map(({ state }: { state: string }) => state)).toEqual(['written', 'written', 'written']);
  });

  test('finds everything again after a kill -9 in the middle of the work', async () => {
    const postmaster = postmasterOf(postgres);
    const [booking] = (await owner.get('/api/debtors')).json().items;
    const sent = Array.from({ length: 10 }, () => personFixture(owner).catch(() => undefined));
    await sleep(40);
    served.program.process.kill('SIGKILL');
    const acknowledged = (await Promise.all(sent)).filter((person) => person !== undefined);
    expect(await served.program.ended).toBe('SIGKILL');
    expect(isAlive(postmaster)).toBe(true); // the database outlives the program and is taken over

    served = await start();
    expect(served.program.out()).not.toContain('set-up');
    const { address } = served;
    owner = overHttp(address);
    await owner.post('/api/sign-in', { email: EMAIL, password: PASSWORD });
    const names = (await owner.get('/api/people?limit=200')).json().items.map(({ name }: { name: string }) => name);
    for (const person of acknowledged) expect(names).toContain(person.name);
    expect((await owner.get('/api/debtors')).json().items[0]).toEqual(booking);
    for (const [documentId, bytes] of papers) expect(await pdfOf(documentId)).toEqual(bytes);
    expect(await letters()).toHaveLength(3);
  });

  test('finds everything again after the database too was killed', async () => {
    process.kill(postmasterOf(postgres), 'SIGKILL');
    served.program.process.kill('SIGKILL');
    await served.program.ended;
    served = await start();
    owner = overHttp(served.address);
    await owner.post('/api/sign-in', { email: EMAIL, password: PASSWORD });
    for (const [documentId, bytes] of papers) expect(await pdfOf(documentId)).toEqual(bytes);
    const { items } = (await owner.get('/api/debtors')).json();
    const open = items.flatMap((debtor: { charges: { chargeId: string }[] }) => debtor.charges.map((c) => c.chargeId));
    expect(open).toContain(chargeId);
  });

  test('stops at Ctrl-C once the requests under way are answered, and takes the database with it', async () => {
    const postmaster = postmasterOf(postgres);
    const request = await halfSent(served.address, { email: EMAIL, password: PASSWORD });
    served.program.process.kill('SIGINT');
    await served.program.prints(/^Stopping: requests and letters under way are finished first\.$/m);
    expect(isAlive(postmaster)).toBe(true);
    expect(await request.finish()).toMatch(/^HTTP\/1\.1 204 .*set-cookie: wareboard=/is);
    expect(await served.program.ended).toBe(0);
    expect(postmasterOf(postgres)).toBe(0);
    // it signs off before it is gone, and then the system has still to sweep it up
    await vi.waitFor(() => expect(isAlive(postmaster)).toBe(false), { timeout: 20_000 });
    await expect(fetch(`${served.address}/health`)).rejects.toThrow();
  });

  test('all is well in it', async () => {
    const program = run(['check'], { WAREBOARD_DATA: data });
    expect(await program.ended).toBe(0);
    expect(program.out()).toBe('All is well: every rule that must hold does.\n');
  });
});

/** Begins to sign in, and waits with the body once the server has taken up the request. */
async function halfSent(address: string, credentials: object) {
  const { port, hostname } = new URL(address);
  const body = JSON.stringify(credentials);
  const head = ['POST /api/sign-in HTTP/1.1', `Host: ${hostname}`, 'Sec-Fetch-Site: none', 'Connection: close'];
  const about = ['Content-Type: application/json', `Content-Length: ${body.length}`, 'Expect: 100-continue'];
  const socket = connect(Number(port), hostname);
  socket.write(`${[...head, ...about].join('\r\n')}\r\n\r\n`);
  const [taken] = await once(socket, 'data');
  expect(String(taken)).toMatch(/^HTTP\/1\.1 100 Continue/);
  const finish = async () => {
    socket.write(body);
    let answer = '';
    for await (const bytes of socket) answer += bytes;
    return answer;
  };
  return { finish };
}

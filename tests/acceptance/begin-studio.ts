import { simpleParser } from 'mailparser';
import { expect, test, vi } from 'vitest';
import { readBack } from '../documents/read-back.js';
import type { Caller } from '../support/app.js';
import { bookingFixture, payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { firingFixture, step } from '../support/fixtures/firings.js';
import { tariffFixture } from '../support/fixtures/kilns.js';
import { boardFixture, MUG, noted, piecesFixture } from '../support/fixtures/ware.js';
import { personFixture } from '../support/fixtures.js';
import { overHttp } from '../support/over-http.js';

/** A program that serves an empty studio, whoever runs it and wherever. */
export interface Served {
  address: string;
  /** The link that it printed, with which its first owner signs up. */
  link: string;
  /** The files in its outbox. */
  letters(): Promise<Buffer[]>;
}

export const EMAIL = 'mara@alderlane.example';
export const PASSWORD = 'three mugs and a jar';
/** Of the booking, of the receipt, of the place that it confirms, to who pays and to who comes too, of what is ready. */
const LETTERS = 5;
/** Of the two sessions, to each of the two who come. */
const INVITATIONS = 4;
const HOUR = 3_600_000;
const hence = (hours: number) => new Date(Math.floor(Date.now() / 60_000) * 60_000 + hours * HOUR).toISOString();

/** Tests that live a studio's first days over HTTP only, from its set-up to a bill and a notice. */
export function beginStudio(served: () => Served) {
  /** Papers as they were first shown, to be shown for ever. */
  const papers = new Map<string, Buffer>();
  let owner = overHttp('http://127.0.0.1');
  let chargeId = '';

  test('is set up by the link that the program prints, once', async () => {
    const { address, link } = served();
    expect((await fetch(`${address}/ready`)).status).toBe(200);
    const token = new URL(link).hash.slice(1);
    owner = overHttp(address);
    const made = await owner.post('/api/set-up', { token, name: 'Mara Lind', email: EMAIL, password: PASSWORD });
    expect(made.statusCode).toBe(201);
    expect(
      (await owner.post('/api/set-up', { token, name: 'X Y', email: 'x@y.example', password: PASSWORD })).statusCode,
    ).toBe(409);
    expect((await owner.post('/api/sign-in', { email: EMAIL, password: PASSWORD })).statusCode).toBe(204);
    expect((await owner.get('/api/me')).json()).toMatchObject({ name: 'Mara Lind', role: 'owner', studio: null });
  });

  test('prices a course, sells it and takes a deposit', async () => {
    const sold = await sellCourse(owner);
    papers.set(sold.documentId, sold.receipt);
    chargeId = sold.chargeId;
  });

  test('fires ware, splits the firing to the penny, bills it and tells its maker', async () => {
    const told = await fireAndBill(owner);
    papers.set(told.documentId, told.notice);
  });

  test('writes each letter to its outbox, with its paper', async () => {
    const written = await vi.waitFor(
      async () => {
        const found = await served().letters();
        expect(found).toHaveLength(LETTERS);
        return found;
      },
      { timeout: 300_000, interval: 250 },
    );
    const mails = await Promise.all(written.map((letter) => simpleParser(letter)));
    const attached = (type: string) =>
      mails
        .flatMap(({ attachments }) => attachments.filter(({ contentType }) => contentType === type))
        .map(({ content }) => content.toString('base64'));
    expect(attached('text/calendar')).toHaveLength(INVITATIONS);
    expect(attached('application/pdf').sort()).toEqual(
      [...papers.values()].map((bytes) => bytes.toString('base64')).sort(),
    );
    const { items } = (await owner.get('/api/notices')).json();
    expect(items.map(({ state }: { state: string }) => state)).toEqual(Array(LETTERS).fill('written'));
  });

  /** Signs in again and finds every paper as it was, what is owed and each letter. @returns the owner who signed in */
  return async function foundAgain(): Promise<Caller> {
    const again = overHttp(served().address);
    expect((await again.post('/api/sign-in', { email: EMAIL, password: PASSWORD })).statusCode).toBe(204);
    for (const [documentId, bytes] of papers) expect(await pdfOf(again, documentId)).toEqual(bytes);
    const { items } = (await again.get('/api/debtors')).json();
    const open = items.flatMap((debtor: { charges: { chargeId: string }[] }) => debtor.charges.map((c) => c.chargeId));
    expect(open).toContain(chargeId);
    expect(await served().letters()).toHaveLength(LETTERS);
    return again;
  };
}

async function pdfOf(owner: Caller, documentId: string): Promise<Buffer> {
  const answer = await owner.get(`/api/documents/${documentId}/pdf`);
  expect(answer.headers['content-type']).toBe('application/pdf');
  return answer.rawPayload;
}

async function sellCourse(owner: Caller) {
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
  const receipt = await pdfOf(owner, paid.json().documentId);
  const { text, marked } = await readBack(receipt);
  expect(text).toContain('R-000001');
  expect(text).toContain('£60.00');
  expect(marked).toMatchObject({ Marked: true });
  return { chargeId: booking.chargeId, documentId: paid.json().documentId as string, receipt };
}

async function fireAndBill(owner: Caller) {
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
  const paper = await pdfOf(owner, notice.documentId);
  const { text } = await readBack(paper);
  for (const expected of ['Halina Brzóska', ...ware.map(({ code }) => code)]) expect(text).toContain(expected);
  return { documentId: notice.documentId as string, notice: paper };
}

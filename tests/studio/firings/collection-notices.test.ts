import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { CollectionContent } from '../../../src/documents/collection-content.js';
import { renderCollectionNotice } from '../../../src/documents/collection-notice.js';
import { letterFor } from '../../../src/mail/letters.js';
import type { Announced } from '../../../src/studio/firings/contract.js';
import { testApp } from '../../support/app.js';
import { workshopFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture, step } from '../../support/fixtures/firings.js';
import { tariffFixture } from '../../support/fixtures/kilns.js';
import { glazeFixture, materialFixture } from '../../support/fixtures/materials.js';
import { MUG, noted, piecesFixture } from '../../support/fixtures/ware.js';
import { personFixture, STUDIO, studioFixture } from '../../support/fixtures.js';

const { db, clock, owner, tutor } = await testApp();
beforeAll(async () => {
  await studioFixture(owner);
  await tariffFixture(owner);
});
const announce = async (body: object = {}, key?: string): Promise<Announced[]> => {
  const answer = await owner.post('/api/collection-notices', body, key);
  if (answer.statusCode !== 200) throw new Error(answer.body);
  return answer.json().items;
};
const contentOf = async (documentId: string | undefined) =>
  CollectionContent.parse((await db.document.findUniqueOrThrow({ where: { id: documentId ?? '' } })).content);
const firingNew = async () => {
  const shop = await workshopFixture(owner);
  return firingFixture(owner, { kilnId: shop.kiln.id, scheduleId: shop.stoneware.id });
};

/** Mugs of one maker out of a glaze firing, noted as ready. */
async function readyWare(makerId: string, count = 1) {
  const pieces = await piecesFixture(owner, makerId, { stage: 'glazed', ware: [{ ...MUG, count }] });
  await firedFixture(owner, (await firingNew()).id, pieces);
  await noted(owner, pieces, 'ready');
  return pieces;
}

describe('telling makers that their ware is ready', () => {
  test('writes one notice a maker: pieces, what they may be used for, what is owed, until when', async () => {
    const [ines, tom] = [await personFixture(owner, 'Ines Duval'), await personFixture(owner, 'Tom Ashby')];
    const moss = await glazeFixture(owner);
    const size = { widthMm: 151, depthMm: 150, heightMm: 60 };
    const [mug, bowl] = await piecesFixture(owner, ines.id, {
      stage: 'bisque',
      ware: [MUG, { form: 'bowl', size, description: 'Rice bowl', clayId: null }],
    });
    const [jar] = await piecesFixture(owner, tom.id, { stage: 'glazed' });
    if (!mug || !bowl || !jar) throw new Error('no ware');
    const layer = { materialId: moss.id, coats: 3, foodSurface: true };
    await owner.post(`/api/pieces/${bowl.id}/glazes`, { layers: [layer, { ...layer, foodSurface: false }] });
    await owner.post(`/api/pieces/${mug.id}/glazes`, { layers: [layer, { ...layer, coats: 1 }] });
    const firing = await firingNew();
    await firedFixture(owner, firing.id, [mug, bowl, jar]);
    await step(owner, firing.id, 'settlement', {});
    const bills = (await owner.post(`/api/firings/${firing.id}/billing`)).json().items;
    await noted(owner, [mug, bowl], 'ready');

    const items = await announce();
    expect(items).toMatchObject([{ personId: ines.id, personName: 'Ines Duval', pieceIds: [mug.id, bowl.id] }]);
    const owed = bills.find((bill: { personId: string }) => bill.personId === ines.id);
    expect(items[0]?.owedMinor).toBe(owed.grossMinor);
    const content = await contentOf(items[0]?.documentId);
    expect(content).toMatchObject({
      ...{ writtenOn: '2026-03-10', collectBy: '2026-04-07', maker: { name: 'Ines Duval' }, otherOwed: [] },
      ...{
        where: STUDIO.collectWhere,
        when: STUDIO.collectWhen,
        afterThat: STUDIO.afterStorage,
        howToPay: STUDIO.howToPay,
      },
      firingFees: [{ amountMinor: owed.grossMinor, description: expect.stringContaining('2 pieces') }],
    });
    expect(content.pieces).toEqual([
      {
        ...{ code: mug.code, description: 'Mug with a thumb rest', form: 'mug', widthMm: 120, heightMm: 95 },
        ...{ sizeBasis: 'assumed', firing: `glaze firing ${firing.number}`, firedOn: '2026-03-08' },
        use: { kind: 'decorative' }, // two layers on the food surface
      },
      {
        ...{ code: bowl.code, description: 'Rice bowl', form: 'bowl', widthMm: 151, heightMm: 60 },
        ...{ sizeBasis: 'measured', firing: `glaze firing ${firing.number}`, firedOn: '2026-03-08' },
        use: {
          kind: 'statement',
          quote: moss.manufacturerStatement?.quote,
          glaze: moss.name,
          on: '2025-06-01',
        },
      },
    ]);
    const pdf = await renderCollectionNotice(content);
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
  });

  test('leaves the manufacturer’s words to what is exactly as they state: no oxide beneath, no coat less, no other way', async () => {
    const maker = await personFixture(owner, 'Oda Brandt');
    const asks = { coats: { least: 3, most: 3 }, way: 'brushed', firing: { fromC: 1210, toC: 1230 } };
    const quote = 'Suitable for use with food in three brushed coats at cone 6.';
    const glaze = await glazeFixture(owner, { manufacturerStatement: { quote, statedOn: '2025-06-01', asks } });
    const oxide = await materialFixture(owner, {
      ...{ kind: 'oxide', packQuantity: 250, waterPercent: null, firingRange: null },
      ...{ dryingShrinkagePercent: null, firingShrinkagePercent: null },
    });
    const bowls = await piecesFixture(owner, maker.id, { stage: 'bisque', ware: [{ ...MUG, count: 5 }] });
    const brushed = { materialId: glaze.id, coats: 3, way: 'brushed', foodSurface: true };
    const wash = { materialId: oxide.id, coats: 1, foodSurface: true };
    const finishes = [
      [brushed],
      [wash, brushed],
      [{ ...brushed, coats: 2 }],
      [{ ...brushed, way: 'dipped' }],
      [{ ...brushed, way: null }],
    ];
    for (const [i, layers] of finishes.entries()) {
      const answer = await tutor.post(`/api/pieces/${bowls[i]?.id}/glazes`, { layers });
      expect(answer.statusCode).toBe(200);
    }
    await firedFixture(owner, (await firingNew()).id, bowls);
    await noted(owner, bowls, 'ready');
    const [item] = await announce({ personId: maker.id });
    const uses = (await contentOf(item?.documentId)).pieces.map(({ use }) => use.kind);
    expect(uses).toEqual(['statement', 'decorative', 'decorative', 'decorative', 'decorative']);
  });

  test('queues a letter with the paper, in the same breath', async () => {
    const maker = await personFixture(owner, 'Ada Finch');
    const [piece] = await readyWare(maker.id);
    const [item] = await announce({ personId: maker.id });
    const notice = await db.notice.findUniqueOrThrow({ where: { id: item?.noticeId ?? '' } });
    expect(notice).toMatchObject({ personId: maker.id, occasion: 'collection', documentId: item?.documentId });
    const document = await db.document.findUniqueOrThrow({ where: { id: item?.documentId ?? '' } });
    expect(document).toMatchObject({
      kind: 'collectionNotice',
      fileName: `collection-2026-03-10-${piece?.code.toLowerCase()}.pdf`,
    });
    const letter = letterFor('collection', notice.data, { studio: STUDIO, personName: 'Ada Finch' });
    expect(letter.text).toContain(`${piece?.code} Mug with a thumb rest`);
    expect(letter.text).toContain('There is nothing to pay.');
    const jobs = await db.$queryRaw`SELECT 1 FROM graphile_worker.jobs WHERE key = ${`deliver-${notice.id}`}`;
    expect(jobs).toHaveLength(1);
  });

  test('tells of each piece once, and anew when it became ready again', async () => {
    const maker = await personFixture(owner);
    const pieces = await readyWare(maker.id, 2);
    expect((await announce({ personId: maker.id }))[0]?.pieceIds).toHaveLength(2);
    expect(await announce({ personId: maker.id })).toEqual([]);
    await owner.post('/api/pieces/stage', { pieceIds: [pieces[1]?.id], stage: 'ready', note: 'Moved to the window' });
    expect(await announce({ personId: maker.id })).toEqual([]);

    await clock.set('2026-03-12T09:00:00Z');
    const refire = await firingNew();
    await firedFixture(owner, refire.id, pieces.slice(0, 1));
    expect(await announce({ personId: maker.id })).toEqual([]);
    await noted(owner, pieces.slice(0, 1), 'ready');
    const [again] = await announce({ personId: maker.id });
    expect(again?.pieceIds).toEqual([pieces[0]?.id]);
    expect((await contentOf(again?.documentId)).pieces[0]?.firing).toBe(`glaze firing ${refire.number}`);
    await clock.set('2026-03-10T09:00:00Z');
  });

  test('tells twice a day, where the records of a refire are caught up with', async () => {
    const maker = await personFixture(owner);
    const pieces = await readyWare(maker.id);
    const [first] = await announce({ personId: maker.id });
    await firedFixture(owner, (await firingNew()).id, pieces);
    await noted(owner, pieces, 'ready');
    const [second] = await announce({ personId: maker.id });
    const papers = await db.document.findMany({
      where: { id: { in: [first?.documentId ?? '', second?.documentId ?? ''] } },
      orderBy: { id: 'asc' },
    });
    const code = pieces[0]?.code.toLowerCase();
    expect(papers.map(({ fileName }) => fileName)).toEqual([
      `collection-2026-03-10-${code}.pdf`,
      `collection-2026-03-10-${code}-2.pdf`,
    ]);
  });

  test('calls nobody for ware that stands in a load for another firing', async () => {
    const maker = await personFixture(owner);
    const [piece] = await readyWare(maker.id);
    const refire = await firingNew();
    await step(owner, refire.id, 'loading', { placements: [{ pieceId: piece?.id, layer: 1 }] });
    expect(await announce({ personId: maker.id })).toEqual([]);
    await step(owner, refire.id, 'start', { startedAt: '2026-03-10T08:00:00Z' });
    expect(await announce({ personId: maker.id })).toEqual([]);
  });

  test('writes one notice, however many ask at once or with one key', async () => {
    const maker = await personFixture(owner);
    const [piece] = await readyWare(maker.id);
    const answers = await Promise.all(Array.from({ length: 10 }, () => announce({ personId: maker.id })));
    expect(answers.flat()).toHaveLength(1);
    expect(await db.announcedPiece.count({ where: { pieceId: piece?.id ?? '' } })).toBe(1);
    const other = await personFixture(owner);
    await readyWare(other.id);
    const key = randomUUID();
    const same = await Promise.all(Array.from({ length: 5 }, () => announce({ personId: other.id }, key)));
    expect(new Set(same.map((items) => JSON.stringify(items))).size).toBe(1);
    expect(await db.notice.count({ where: { personId: other.id } })).toBe(1);
  });

  test('has nothing to tell of ware that is collected, nor of nobody; and is the owner’s', async () => {
    const maker = await personFixture(owner);
    const pieces = await readyWare(maker.id);
    await noted(owner, pieces, 'collected');
    expect(await announce({ personId: maker.id })).toEqual([]);
    expect((await owner.post('/api/collection-notices', { personId: randomUUID() })).statusCode).toBe(404);
    expect((await owner.post('/api/collection-notices', { when: [] })).statusCode).toBe(422);
    expect((await tutor.post('/api/collection-notices', {})).statusCode).toBe(403);
  });
});

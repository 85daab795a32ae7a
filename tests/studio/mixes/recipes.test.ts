import { randomUUID } from 'node:crypto';
import { setTimeout as sleep } from 'node:timers/promises';
import { beforeAll, describe, expect, test } from 'vitest';
import { inTransaction } from '../../../src/database/transaction.js';
import { NewRecipe } from '../../../src/studio/mixes/contract.js';
import { changeRecipe, lockMix } from '../../../src/studio/mixes/service.js';
import { testApp } from '../../support/app.js';
import { lotFixture } from '../../support/fixtures/materials.js';
import { mixFixture, powderFixture } from '../../support/fixtures/mixes.js';
import { studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
beforeAll(() => studioFixture(owner));

const powders = (n: number) => Promise.all(Array.from({ length: n }, () => powderFixture(owner)));
const ids = (rows: { id: string }[]) => rows.map(({ id }) => id);
const half = (materialId: string) => ({ materialId, share: '50' });

describe('a mix', () => {
  test('keeps its recipe, in the order in which it was written', async () => {
    const [product, b, a] = await powders(3);
    const recipe = {
      ...{ weights: 'dry', inPercent: true, litreGrams: 1450, solidsDensity: '2.55', note: 'Sieve twice.' },
      parts: [
        { materialId: b?.id, share: '99.5' },
        { materialId: a?.id, share: '0.5' },
      ],
    };
    const answer = await tutor.post('/api/mixes', { productId: product?.id, ...recipe });
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toMatchObject({
      ...{ product: { id: product?.id, name: product?.name }, version: 1, litreGrams: 1450, solidsDensity: '2.55' },
      parts: [
        { materialId: b?.id, share: '99.5', name: b?.name },
        { materialId: a?.id, share: '0.5' },
      ],
    });
    expect((await owner.get(`/api/mixes/${answer.json().id}`)).json()).toEqual(answer.json());
  });

  test('is said once of a material, and made once, however often it is sent', async () => {
    const [product, a] = await powders(2);
    const body = { productId: product?.id, weights: 'dry', parts: [half(a?.id as string)] };
    const key = randomUUID();
    const answers = await Promise.all([1, 2, 3].map(() => owner.post('/api/mixes', body, key)));
    expect(new Set(answers.map((answer) => answer.body)).size).toBe(1);
    expect((await owner.post('/api/mixes', body)).json()).toMatchObject({ type: '/problems/already-there' });
  });

  test('gets a new version, beside the old one', async () => {
    const [a, b] = ids(await powders(2)) as [string, string];
    const mix = await mixFixture(owner, [a]);
    const changed = await owner.put(`/api/mixes/${mix.id}`, { weights: 'wet', parts: [half(a), half(b)] });
    expect(changed.json()).toMatchObject({ version: 2, weights: 'wet', parts: [{ materialId: a }, { materialId: b }] });
    expect(await db.mixVersion.count({ where: { mixId: mix.id } })).toBe(2);
    expect((await owner.get('/api/mixes')).json().items).toContainEqual(changed.json());
  });

  test.each([
    ['without parts', () => [], {}, /must have at least one material/, '#/parts'],
    ['of a part twice', (a: string) => [half(a), half(a)], {}, /add the two shares together/, '#/parts/1/materialId'],
    [
      'of 90 percent',
      (a: string) => [{ materialId: a, share: '90' }],
      { inPercent: true },
      /90%, not to 100%/,
      '#/parts',
    ],
    ['of no share', (a: string) => [{ materialId: a, share: '0' }], {}, /./, '#/parts/0/share'],
    ['by a share that can’t be kept', (a: string) => [{ materialId: a, share: '0.00001' }], {}, /./, '#/parts/0/share'],
    ['as heavy as stone', (a: string) => [half(a)], { litreGrams: 2700 }, /aim for less/, '#/litreGrams'],
  ])('is refused %s', async (_, parts, recipe, detail, pointer) => {
    const [product, a] = ids(await powders(2)) as [string, string];
    const answer = await owner.post('/api/mixes', {
      productId: product,
      weights: 'dry',
      ...recipe,
      parts: parts(a),
    });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().detail).toMatch(detail);
    expect(answer.json().errors).toMatchObject([{ pointer }]);
    expect(await db.mix.count({ where: { productId: product } })).toBe(0);
  });

  test('is refused of what can’t be weighed, of itself, and of what there is not', async () => {
    const [product] = ids(await powders(1)) as [string];
    const box = await powderFixture(owner, { kind: 'packaging', unit: 'piece' });
    const slip = await powderFixture(owner, { kind: 'slip', unit: 'ml' });
    const of = async (materialId: string) =>
      (await owner.post('/api/mixes', { productId: product, weights: 'dry', parts: [half(materialId)] })).json();
    expect((await of(box.id)).detail).toContain(`${box.name} is counted in pieces`);
    expect((await of(slip.id)).detail).toMatch(/dry 100 ml/);
    expect((await of(product)).detail).toMatch(/mixed itself/);
    expect(await of(randomUUID())).toMatchObject({ type: '/problems/not-found' });
  });

  test('holds its material to what it is', async () => {
    const [a] = await powders(1);
    const mix = await mixFixture(owner, [a?.id as string]);
    const { id, ...said } = a ?? { id: '' };
    const answer = await owner.put(`/api/materials/${id}`, { ...said, unit: 'piece' });
    expect(answer.json()).toMatchObject({
      type: '/problems/still-needed',
      detail: expect.stringContaining('a mix uses'),
    });
    const { id: _, name, kind, unit } = mix.product;
    expect({ name, kind, unit }).toMatchObject({ kind: 'glaze', unit: 'g' });
  });

  test('shows what its parts will cost to who may see money', async () => {
    const [a, b] = ids(await powders(2)) as [string, string];
    await lotFixture(owner, a, { quantity: 1000, costMinor: 250 });
    const mix = await mixFixture(owner, [a, b]);
    expect((await owner.get(`/api/mixes/${mix.id}/costs`)).json()).toMatchObject({
      parts: [
        { materialId: a, rateMinor: '0.25' },
        { materialId: b, rateMinor: null },
      ],
      batches: [],
    });
    expect((await tutor.get(`/api/mixes/${mix.id}/costs`)).statusCode).toBe(403);
  });
});

describe('mixes in mixes', () => {
  test('are nested once', async () => {
    const [a, b] = ids(await powders(2)) as [string, string];
    const inner = await mixFixture(owner, [a]);
    const outer = await mixFixture(owner, [inner.product.id, b]);
    const third = (await powderFixture(owner)).id;
    const answer = await owner.post('/api/mixes', {
      productId: third,
      weights: 'dry',
      parts: [half(b), half(outer.product.id)],
    });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().detail).toContain(`${outer.product.name} is mixed of ${inner.product.name}`);
    expect(answer.json().errors).toMatchObject([{ pointer: '#/parts/1/materialId' }]);
  });

  test('don’t become three levels from below, nor go in a circle', async () => {
    const [a, b] = ids(await powders(2)) as [string, string];
    const lowest = await mixFixture(owner, [a]);
    const inner = await mixFixture(owner, [b]);
    const outer = await mixFixture(owner, [inner.product.id, a]);
    const below = await owner.put(`/api/mixes/${inner.id}`, { weights: 'dry', parts: [half(lowest.product.id)] });
    expect(below.json().detail).toContain(`${inner.product.name} is itself a part of ${outer.product.name}`);
    const circle = await owner.put(`/api/mixes/${inner.id}`, { weights: 'dry', parts: [half(outer.product.id)] });
    expect(circle.statusCode).toBe(422);
  });

  test('don’t become three levels when two are written at once', async () => {
    const [a, b, c] = ids(await powders(3)) as [string, string, string];
    const low = await mixFixture(owner, [a]);
    const [middle, high] = [await mixFixture(owner, [b]), await mixFixture(owner, [c])];
    const write = (mixId: string, partId: string) =>
      inTransaction(db, async (tx) => {
        await lockMix(tx, mixId);
        const recipe = NewRecipe.parse({ weights: 'dry', parts: [half(partId)] });
        await changeRecipe(tx, new Date(), mixId, recipe);
        await sleep(100); // the other, did it not wait, would see nothing of this one
      });
    const answers = await Promise.allSettled([write(middle.id, low.product.id), write(high.id, middle.product.id)]);
    const refused = answers.filter((answer) => answer.status === 'rejected');
    // by the service, which waited; the database would refuse it too, but only where the other has committed by then
    expect(refused).toMatchObject([
      { reason: { type: 'invalid-request', detail: expect.stringMatching(/made of instead/) } },
    ]);
  });
});

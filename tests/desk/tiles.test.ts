import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Tile } from '../../src/studio/tiles/contract.js';
import { testApp } from '../support/app.js';
import { scheduleFixture } from '../support/fixtures/kilns.js';
import { glazeFixture, materialFixture } from '../support/fixtures/materials.js';
import { made, studioFixture } from '../support/fixtures.js';
import { browse, expectFits, faultsOf, PHONE, sessionOf } from './browser.js';

const { app, owner } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
// one grey pixel, written by hand after RFC 2083
const PNG = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==',
  'base64',
);

let stoneware: { id: string; name: string };
beforeAll(async () => {
  await studioFixture(owner);
  const clay = await materialFixture(owner, { name: 'Wren stoneware' });
  const [moss, chalk] = [await glazeFixture(owner, { name: 'Moss' }), await glazeFixture(owner, { name: 'Chalk' })];
  const add = (body: object) => made<Tile>(owner, '/api/test-tiles', { bodyId: clay.id, ...body });
  stoneware = await scheduleFixture(owner, {
    ...{ kind: 'glaze', cone: '6' },
    segments: [{ ratePerHourC: 60, targetC: 1222, holdMinutes: 10 }],
  });
  const firing = { firedOn: '2026-03-02', cone: '6', scheduleId: stoneware.id };
  await add({
    name: 'Moss alone',
    firing,
    run: 'moved',
    colour: 'Bracken green',
    layers: [{ materialId: moss.id, way: 'dipped' }],
  });
  const layers = [moss, chalk].map(({ id }) => ({ materialId: id, way: 'brushed', coats: 2 }));
  await add({ name: 'Chalk over moss', firing, layers });
  session = await sessionOf(open);
});

async function tiles(options: BrowserContextOptions = {}): Promise<Page> {
  const page = await open('/shelf/tiles', { ...options, storageState: session });
  await page.locator('main[aria-busy=false] .answer').waitFor();
  return page;
}
const names = (page: Page) => page.getByRole('heading', { level: 2 }).allTextContents();

describe('test tiles on the page', () => {
  test('say how they were made, how they came out, and what a manufacturer says of food', async () => {
    const page = await tiles();
    expect(await page.locator('.answer').textContent()).toBe('Two tiles.');
    const said = (await page.locator('.tile').allTextContents()).map((text) => text.replaceAll('\u00a0', ' '));
    expect(said[0]).toContain('Moss, two coats, brushed; over it Chalk, two coats, brushed, on Wren stoneware.');
    expect(said[0]).toContain('Layered: decorative, until a laboratory has tested it.');
    expect(said[1]).toContain(`Fired to cone 6 by ${stoneware.name} on 2 March 2026. Bracken green; it moved.`);
    expect(said[1]).toContain(
      'The manufacturer of Moss stated on 1 June 2025: “Suits food surfaces when fired as told on the label.”',
    );
    await page.context().close();
  });

  test('are found by words, clay and glaze', async () => {
    const page = await tiles();
    await page.getByLabel('Look for').fill('bracken');
    await page.getByText('One tile with “bracken”').waitFor();
    expect(await names(page)).toEqual(['Moss alone 1']);
    await page.getByLabel('Look for').fill('');
    await page.getByLabel('With').selectOption({ label: 'Chalk' });
    await expect.poll(() => names(page)).toEqual(['Chalk over moss 2']);
    await page.getByLabel('Look for').fill('cobalt');
    await page.getByText('No tile says “cobalt”').waitFor();
    await page.context().close();
  });

  test('get a photo, and none from what is no photo', async () => {
    const page = await tiles();
    const input = page.locator('.tile').nth(1).locator('input[type=file]');
    await input.setInputFiles({ name: 'tile.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('no photo at all') });
    expect(await page.getByRole('alert').textContent()).toMatch(/not a photo in JPEG, PNG or WebP/);
    await input.setInputFiles({ name: 'tile.png', mimeType: 'image/png', buffer: PNG });
    await page.getByText('Tile 1 has a new photo.').waitFor();
    const image = page.getByRole('img', { name: 'Tile 1, Moss alone' });
    await image.scrollIntoViewIfNeeded();
    await expect.poll(() => image.evaluate((img) => (img as HTMLImageElement).naturalWidth)).toBe(1);
    await input.setInputFiles({ name: 'again.png', mimeType: 'image/png', buffer: PNG });
    const earlier = page.getByRole('link', { name: 'Photo 1 of tile 1' });
    await earlier.waitFor();
    const [photo] = (await owner.get('/api/test-tiles?search=1')).json().items[0].photos;
    expect(await earlier.getAttribute('href')).toContain(photo.id);
    await page.context().close();
  });

  test('keep a photo without what the camera wrote into it, and small; it can be taken away', async () => {
    const page = await tiles();
    const large = await page.evaluate(async () => {
      const canvas = Object.assign(document.createElement('canvas'), { width: 2400, height: 1200 });
      canvas.getContext('2d')?.fillRect(0, 0, 600, 600);
      return canvas.toDataURL('image/jpeg').split(',')[1] ?? '';
    });
    const jpeg = Buffer.from(large, 'base64');
    const said = Buffer.from('Exif\0\0MM\0*GPS 52.1 N 1.3 E', 'latin1');
    const app1 = Buffer.concat([Buffer.from([0xff, 0xe1, 0, said.length + 2]), said]);
    const buffer = Buffer.concat([jpeg.subarray(0, 2), app1, jpeg.subarray(2)]);
    const card = page.locator('.tile').nth(1);
    await card.locator('input[type=file]').setInputFiles({ name: 'phone.jpg', mimeType: 'image/jpeg', buffer });
    await page.getByText('Tile 1 has a new photo.').waitFor();
    const photosOf = async () => (await owner.get('/api/test-tiles?search=1')).json().items[0];
    const { id, photos } = await photosOf();
    const kept = (await owner.get(`/api/test-tiles/${id}/photos/${photos.at(-1).id}`)).rawPayload;
    expect(buffer.includes('GPS')).toBe(true);
    expect(kept.includes('GPS') || kept.includes('Exif')).toBe(false);
    const image = page.getByRole('img', { name: 'Tile 1, Moss alone' });
    await image.scrollIntoViewIfNeeded();
    const sides = () => image.evaluate((img: HTMLImageElement) => [img.naturalWidth, img.naturalHeight]);
    await expect.poll(sides).toEqual([1600, 800]);

    await card.getByRole('button', { name: 'Write on tile 1' }).click();
    await card.getByRole('button', { name: `Take photo ${photos.length} away` }).click();
    await page.getByText(`Photo ${photos.length} of tile 1 is gone.`).waitFor();
    expect((await photosOf()).photos).toEqual(photos.slice(0, -1));
    await page.context().close();
  });

  test('can be made of every glaze that there is, the two hundredth and the next too', async () => {
    for (let n = 0; n < 200; n++) await glazeFixture(owner);
    await glazeFixture(owner, { name: 'Chalk for later' });
    const page = await tiles();
    await page.getByRole('button', { name: 'Enter a tile' }).click();
    await page.locator('form.raised').getByLabel('Layer 1').selectOption({ label: 'Chalk for later' });
    await page.context().close();
  });

  test('are entered, and written on', async () => {
    const page = await tiles();
    await page.getByRole('button', { name: 'Enter a tile' }).click();
    const form = page.locator('form.raised');
    await form.getByLabel('What do you call it?').fill('Chalk, poured');
    await form.getByLabel('Layer 1').selectOption({ label: 'Chalk' });
    await form.getByLabel('Put on').selectOption({ label: 'poured' });
    await form.getByRole('button', { name: 'Keep this tile' }).click();
    await page.getByText('Scratch its number into its back').waitFor();
    await page.getByText('Three tiles; one of them is not fired yet.').waitFor();
    await page.getByRole('button', { name: 'Write on tile 3' }).click();
    await page.getByLabel('Did it run?').selectOption({ label: 'it stayed' });
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('Say on which day it was fired').waitFor();
    await page.getByLabel('Fired on').fill('2026-03-09');
    await page.getByLabel('Defects').fill('Pinholes');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByText('Tile 3 is kept.').waitFor();
    expect((await owner.get('/api/test-tiles?search=pinholes')).json().items).toMatchObject([
      { number: 3, firing: { firedOn: '2026-03-09', cone: null }, layers: [{ way: 'poured', coats: 1 }] },
    ]);
    await page.context().close();
  });

  test.each([
    ['on a desk', {}],
    ['on a phone in the dark', { ...PHONE, colorScheme: 'dark' as const }],
  ])('fit and are without faults %s, with a form open', async (_, options) => {
    const page = await tiles(options);
    await page.getByRole('button', { name: 'Write on tile 2' }).click();
    await page.locator('form.raised').waitFor();
    if ('viewport' in options) await expectFits(page);
    expect(await faultsOf(page)).toEqual([]);
    await page.context().close();
  });
});

import type { BrowserContextOptions, Page } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { studioFixture } from '../support/fixtures.js';
import { drawPng, IRON, JPEG, logoPng, pngChunk } from '../support/pictures.js';
import { browse, expectFits, expectNoSidewaysScroll, faultsOf, PHONE, sessionOf } from './browser.js';

const { app, db, owner } = await testApp();
const { open } = await browse(app);
let session: BrowserContextOptions['storageState'];
beforeAll(async () => {
  await studioFixture(owner);
  session = await sessionOf(open);
});

const DESKTOP: BrowserContextOptions = { viewport: { width: 1280, height: 800 } };
async function settings(options: BrowserContextOptions): Promise<Page> {
  const page = await open('/studio', { ...options, storageState: session });
  await page.locator('.studio-logo[aria-busy=false]').waitFor();
  return page;
}
const pick = (page: Page, buffer: Buffer, name = 'logo.png', mimeType = 'image/png') =>
  page.locator('.studio-logo input[type=file]').setInputFiles({ name, mimeType, buffer });
const said = (page: Page) => page.locator('.toast > div');
const preview = (page: Page) => page.getByAltText('Your logo');
const current = async () => (await owner.get('/api/studio/logo')).json().logo;

describe.each([
  ['1280 px', DESKTOP],
  ['360 px', PHONE],
])('the logo, at %s', (_, size) => {
  test('is uploaded, seen, replaced, removed and brought back', async () => {
    await owner.post('/api/studio/logo/removal');
    const page = await settings(size);
    const section = page.getByRole('region', { name: 'Logo on papers' });
    expect(await section.getByRole('button', { name: 'Remove logo' }).count()).toBe(0);
    await pick(page, logoPng(320, 160));
    await said(page).getByText('New papers show this logo.').waitFor();
    expect(await said(page).getByRole('button').count()).toBe(0); // nor anything to go back to
    const seen = () =>
      preview(page).evaluate((image: HTMLImageElement) => [image.naturalWidth > 0, image.clientWidth > 0]);
    await expect.poll(seen).toEqual([true, true]);
    const first = await current();
    await ('hasTouch' in size ? expectFits : expectNoSidewaysScroll)(page);
    expect(await faultsOf(page)).toEqual([]);

    await pick(page, logoPng(100, 200, IRON));
    await said(page).getByRole('button', { name: 'Undo' }).waitFor();
    expect((await current()).sha256).not.toBe(first.sha256);
    await said(page).getByRole('button', { name: 'Undo' }).click();
    await said(page).getByText('The logo is as it was before.').waitFor();
    expect((await current()).sha256).toBe(first.sha256);

    await section.getByRole('button', { name: 'Remove logo' }).click();
    await said(page).getByText('New papers have no logo.').waitFor();
    await expect.poll(() => preview(page).count()).toBe(0);
    expect(await current()).toBeNull();
    expect(await db.logo.count()).toBe(0);
    await said(page).getByRole('button', { name: 'Undo' }).click();
    await preview(page).waitFor();
    expect((await current()).sha256).toBe(first.sha256);
    await expectNoSidewaysScroll(page);
    await page.context().close();
  });

  test('is refused in words where it is no picture, and the one before stays', async () => {
    const page = await settings(size);
    await pick(page, logoPng());
    await said(page).getByText('New papers show this logo.').waitFor();
    const alert = page.locator('.studio-logo').getByRole('alert');
    for (const [bytes, type, words] of [
      [Buffer.from('no picture at all'), 'image/png', 'This is not a PNG or a JPEG. Save the logo as one of these'],
      [Buffer.from('no picture at all'), 'text/plain', 'Send the logo as image/png or image/jpeg.'],
      [logoPng().subarray(0, 200), 'image/png', 'The picture is damaged or cut off. Save it again'],
      [logoPng(60, 30, [255, 255, 255, 255]), 'image/png', 'On white paper nothing of this logo would be seen.'],
    ] as const) {
      await pick(page, bytes, 'logo', type);
      await alert.getByText(words).waitFor();
      await preview(page).waitFor();
    }
    await page.context().close();
  });
});

describe('the logo that is sent', () => {
  test('has lost its white edges, what was beside its pixels, and what print can’t show of it', async () => {
    const page = await settings(DESKTOP);
    const mark = drawPng(900, 700, (x, y) => (x >= 100 && x < 800 && y >= 200 && y < 340 ? IRON : [0, 0, 0, 0]));
    const note = pngChunk('tEXt', Buffer.from('Author\0Ines Duval', 'latin1'));
    await pick(page, Buffer.concat([mark.subarray(0, 33), note, mark.subarray(33)]));
    await said(page).getByText('New papers show this logo.').waitFor();
    expect(await current()).toMatchObject({ mediaType: 'image/png', widthPx: 600, heightPx: 120 });
    const { rawPayload } = await owner.get(`/api/studio/logos/${(await current()).sha256}`);
    expect(rawPayload.includes('Duval')).toBe(false);
    await page.context().close();
  });

  test('may come as JPEG', async () => {
    const page = await settings(DESKTOP);
    await pick(page, JPEG, 'logo.jpg', 'image/jpeg');
    await said(page).getByText('New papers show this logo.').waitFor();
    const { widthPx, heightPx } = await current();
    expect(heightPx).toBe(24);
    expect(Math.abs(widthPx - 24)).toBeLessThanOrEqual(3); // its left half; what a JPEG blurs at the edge may stay
    await page.context().close();
  });

  test('is seen as another program sees it', async () => {
    // Chromium unpacks the picture that the server packed: the same pixels, on white
    const page = await settings(DESKTOP);
    const sent = drawPng(12, 6, (x, y) => [x * 20, y * 40, 128, 255]);
    await pick(page, sent);
    await said(page).getByText('New papers show this logo.').waitFor();
    await expect.poll(() => preview(page).evaluate((image: HTMLImageElement) => image.naturalWidth)).toBe(12);
    const pixels = await preview(page).evaluate((image: HTMLImageElement) => {
      const canvas = document.createElement('canvas');
      [canvas.width, canvas.height] = [12, 6];
      const context = canvas.getContext('2d');
      context?.drawImage(image, 0, 0);
      return [...(context?.getImageData(0, 0, 12, 6).data ?? [])];
    });
    const drawn = Array.from({ length: 72 }, (_, i) => [(i % 12) * 20, Math.floor(i / 12) * 40, 128, 255]).flat();
    expect(pixels).toEqual(drawn);
    await page.context().close();
  });
});

test('the paper size is chosen in the settings', async () => {
  const page = await settings(DESKTOP);
  await page.getByLabel('Paper size').selectOption({ label: 'Letter (8½ × 11 in)' });
  await page.getByRole('button', { name: 'Save the studio' }).click();
  await page.waitForURL((url) => url.pathname === '/');
  expect((await owner.get('/api/studio')).json().paperSize).toBe('LETTER');
  await page.context().close();
  const again = await settings(DESKTOP);
  expect(await again.getByLabel('Paper size').inputValue()).toBe('LETTER');
  await again.context().close();
});

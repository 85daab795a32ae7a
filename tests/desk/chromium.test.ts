import { expect, test } from 'vitest';
import { connectToChromium, serveChromium } from '../support/chromium.js';
import { faultsOf } from './browser.js';

test('a Chromium that crashed is there again at the same address, and axe finds what is wrong in it', async () => {
  const { url, stop } = await serveChromium();
  const before = await connectToChromium(url);
  const gone = new Promise((resolve) => before.once('disconnected', resolve));
  const session = await before.newBrowserCDPSession();
  await session.send('Browser.crash').catch(() => undefined); // nobody is left to answer
  await gone;
  const after = await connectToChromium(url);
  const page = await after.newPage();
  await page.setContent('<main><h1>Kilns</h1><img src="kiln.png"></main>');
  const rules = (await faultsOf(page)).map((fault) => fault.split(':')[0]);
  expect(rules.sort()).toEqual(['document-title', 'html-has-lang', 'image-alt']);
  await stop();
});

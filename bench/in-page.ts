import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { openChromium } from '../tests/support/chromium.js';
import { tell } from './measure.js';
import { TO_THE_PENNY } from './price.js';

const ENTRY = fileURLToPath(new URL('./page.ts', import.meta.url));

/** The price as the desk works it out, in a page of a real Chromium. */
export async function inPageBench(): Promise<void> {
  const browser = await openChromium();
  const page = await browser.newPage();
  await page.addScriptTag({ content: await bundled() });
  const rounds = await page.evaluate(() => priceRounds());
  await browser.close();
  const names = { ours: 'coursePrice and sensitivities', baseline: TO_THE_PENNY };
  tell('A full price with all sensitivities, in a page of Chromium', names, rounds);
}

async function bundled(): Promise<string> {
  const lib = { entry: ENTRY, formats: ['iife' as const], name: 'bench', fileName: 'bench' };
  const built = await build({ configFile: false, logLevel: 'warn', build: { write: false, lib } });
  const [{ output } = { output: [] }] = [built].flat() as { output: { type: string; code?: string }[] }[];
  return output.find(({ type }) => type === 'chunk')?.code ?? '';
}

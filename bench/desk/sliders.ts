import type { Locator, Page } from 'playwright-core';
import { type LongestTask, longestTask } from './tasks.js';

const STEPS = 40;
/** A hand that stops on its way: what waits for that must not take long either. */
const REST_MILLISECONDS = 300;

/** How much slower than the machine the page's processor is made: by Emulation.setCPUThrottlingRate. */
export const SLOWER = [1, 4];

export type Dragged = { slider: string; longest: { rate: number; task: LongestTask }[] };

/** Drags each slider of a page from its least to its most and back to the middle, and tells the longest task it took. */
export async function dragSliders(page: Page): Promise<Dragged[]> {
  const cdp = await page.context().newCDPSession(page);
  await page.evaluate(() => {
    for (const part of document.querySelectorAll('form.what-if details')) (part as HTMLDetailsElement).open = true;
  });
  const dragged: Dragged[] = [];
  for (const slider of await page.locator('form.what-if input[type=range]').all()) {
    const longest: Dragged['longest'] = [];
    for (const rate of SLOWER) {
      await cdp.send('Emulation.setCPUThrottlingRate', { rate });
      const drags = await wayOf(page, slider);
      longest.push({ rate, task: await longestTask(cdp, drags) });
    }
    await cdp.send('Emulation.setCPUThrottlingRate', { rate: 1 });
    const label = await slider.evaluate((one: HTMLInputElement) => one.labels?.[0]?.textContent ?? '');
    await page.getByRole('button', { name: 'Back to today’s figures' }).click();
    dragged.push({ slider: label, longest });
  }
  return dragged;
}

/** The way of a hand over a slider. */
async function wayOf(page: Page, slider: Locator): Promise<() => Promise<void>> {
  await slider.scrollIntoViewIfNeeded();
  await page.waitForTimeout(REST_MILLISECONDS);
  const box = await slider.boundingBox();
  if (!box) throw new Error('A slider is not drawn.');
  const to = (part: number) => page.mouse.move(box.x + box.width * part, box.y + box.height / 2);
  return async () => {
    await to(0.02);
    await page.mouse.down();
    for (let i = 0; i <= STEPS; i++) await to(0.02 + (0.96 * i) / STEPS);
    await page.waitForTimeout(REST_MILLISECONDS);
    for (let i = 0; i <= STEPS; i++) await to(0.98 - (0.48 * i) / STEPS);
    await page.mouse.up();
    await page.waitForTimeout(REST_MILLISECONDS);
  };
}

import type { Page } from 'playwright-core';

/** Presses Tab until what has the focus is called so, as somebody without a mouse does. */
async function tabTo(page: Page, name: string): Promise<void> {
  const seen: string[] = [];
  for (let i = 0; i < 90; i++) {
    const focused = await page.evaluate(() => {
      const it = document.activeElement as (HTMLElement & { labels?: NodeListOf<HTMLLabelElement> }) | null;
      return it?.getAttribute('aria-label') ?? it?.labels?.[0]?.textContent ?? it?.textContent ?? '';
    });
    const said = focused.trim();
    if (said.startsWith(name) && !/^\w/.test(said.slice(name.length))) return; // "Close" is not "Closed days"
    seen.push(said.slice(0, 30));
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab does not lead to "${name}", but to ${[...new Set(seen)].join(', ')}`);
}

/** What somebody does by keyboard alone, and how often they press or write something, however often they press Tab between. */
export function keyboardOf(page: Page) {
  let interactions = 0;
  const begun = performance.now();
  return {
    press: async (name: string) => {
      interactions++;
      await tabTo(page, name);
      await page.keyboard.press('Enter');
    },
    tick: async (name: string) => {
      interactions++;
      await tabTo(page, name);
      await page.keyboard.press('Space');
    },
    write: async (name: string, text: string) => {
      interactions++;
      await tabTo(page, name);
      await page.keyboard.press('ControlOrMeta+A');
      await page.keyboard.type(text);
    },
    interactions: () => interactions,
    /** So often, and for so long: what a report says of it. How long is no limit, which a loaded machine would pass. */
    told: () => `${interactions} interactions in ${((performance.now() - begun) / 1000).toFixed(1)} s`,
  };
}

import type { Page } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import { testApp } from '../support/app.js';
import { cloneDemo } from '../support/demo.js';
import { listDeskPages } from '../support/desk-pages.js';
import { browse, sessionOf } from './browser.js';

// How long a page is waited for over a slow line is counted in rounds of requests: one after another's answer is another round. The
// answers are held back here until the page asks for nothing more without them, so a round is what it is on any machine.

const ROUNDS_AT_MOST = 2;
/** The page of a plan takes the most: the plan, what it may be made of, what it costs, and its courses. */
const REQUESTS_AT_MOST = 16;

const { app, owner } = await testApp({ clone: cloneDemo });
const { base, open } = await browse(app);
let page: Page;

declare global {
  var heldBack: { asked: string[]; waiting: (() => Promise<void>)[] };
}

/** Runs in the page before its own code. */
function holdBack(): void {
  const really = globalThis.fetch;
  globalThis.heldBack = { asked: [], waiting: [] };
  globalThis.fetch = ((request: Request) => {
    const { pathname, search } = new URL(request.url);
    globalThis.heldBack.asked.push(pathname + search);
    return new Promise((resolve, reject) => {
      globalThis.heldBack.waiting.push(async () => {
        const answer = await really(request).catch(reject);
        if (!answer) return;
        await answer.clone().arrayBuffer(); // all of it is here: what the page does with it waits for nothing
        resolve(answer);
      });
    });
  }) as typeof fetch; // the desk's client asks by a Request
}

/** Lets the answers of a round go, once the page has had time to ask for all of it. @returns what was asked for, round by round */
async function roundsAt(path: string): Promise<string[][]> {
  await page.goto(base + path);
  await page.waitForFunction(() => globalThis.heldBack.asked.length > 0);
  const rounds: string[][] = [];
  for (;;) {
    const asked = await page.evaluate(async () => {
      const { heldBack } = globalThis;
      for (let turns = 0, before = -1; turns < 10; before = heldBack.asked.length) {
        await new Promise((resolve) => setTimeout(resolve, 25));
        turns = heldBack.asked.length === before ? turns + 1 : 0;
      }
      return heldBack.asked;
    });
    const earlier = rounds.flat().length;
    if (asked.length === earlier) break;
    rounds.push(asked.slice(earlier));
    await page.evaluate(async () => {
      await Promise.all(globalThis.heldBack.waiting.splice(0).map((letGo) => letGo()));
    });
  }
  await page.locator('main[aria-busy=false]').waitFor();
  return rounds;
}

beforeAll(async () => {
  page = await open('/health', { storageState: await sessionOf(open) });
  await page.addInitScript(holdBack);
});

test('no page of the desk waits for more than two rounds of requests, nor asks much', async () => {
  const pages = await listDeskPages(async (path) => (await owner.get(path)).json());
  expect(pages.length).toBeGreaterThan(35);
  const beyond: string[] = [];
  for (const path of pages) {
    const rounds = await roundsAt(path);
    const asked = rounds.flat();
    if (rounds.length > ROUNDS_AT_MOST || asked.length > REQUESTS_AT_MOST || new Set(asked).size < asked.length)
      beyond.push([path, ...rounds.map((round) => round.join(' '))].join('\n  '));
  }
  expect(beyond.join('\n')).toBe('');
});

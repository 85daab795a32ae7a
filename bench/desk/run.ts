// npm run bench:desk: opens every page of the desk in Chromium over the built program, and drags what can be dragged. It fails where a
// page goes beyond the goals. GROWTH_DATA names a data folder that is not being served; without it a demo of its own is made.
import type { Browser, Page } from 'playwright-core';
import { openChromium } from '../../tests/support/chromium.js';
import { listDeskPages } from '../../tests/support/desk-pages.js';
import { figure } from '../figures.js';
import { type Served, serveStudio } from '../program.js';
import { type Dragged, dragSliders, SLOWER } from './sliders.js';
import { longestOf, readWatch, roundsOf, watch } from './watch.js';

/** What a page may take at most. */
const GOALS = { bytes: 150_000, rounds: 2, usable: 1000, task: 50 };

/** For what hangs. */
const HANGS_AFTER_MILLISECONDS = 600_000;

type Visit = { path: string; bytes: number; requests: number; rounds: number; usable: number; task: number };

async function measure(browser: Browser, { base, email, password, what }: Served): Promise<boolean> {
  const signedIn = await browser.newContext();
  const headers = { 'sec-fetch-site': 'same-origin' };
  const answer = await signedIn.request.post(`${base}/api/sign-in`, { data: { email, password }, headers });
  if (!answer.ok()) throw new Error(`${email} could not sign in: ${await answer.text()}`);
  const pages = await listDeskPages(async (path) => (await signedIn.request.get(base + path)).json());
  /** As somebody does who was never here: nothing is kept from page to page. */
  const open = async (): Promise<Page> => {
    const storageState = await signedIn.storageState();
    const size = { viewport: { width: 1280, height: 900 }, locale: 'en-GB' };
    const window = await browser.newContext({ ...size, storageState });
    window.setDefaultTimeout(HANGS_AFTER_MILLISECONDS);
    return window.newPage();
  };
  console.log(`The desk over ${what}: ${pages.length} pages; goals ${JSON.stringify(GOALS)}\n`);
  await visit(await open(), base, '/'); // the program itself is warm before anything counts
  const visits: Visit[] = [];
  const dragged: (Dragged & { path: string })[] = [];
  for (const path of pages.filter(isWanted)) {
    const page = await open();
    visits.push(told(await visit(page, base, path)));
    const sliders = /^\/courses\/price\/./.test(path) ? await dragSliders(page) : [];
    for (const one of sliders) dragged.push({ path, ...one });
    await page.context().close();
  }
  for (const { path, slider, longest } of dragged)
    console.log(
      `${path}  ${slider}: the longest task worked ${longest.map(({ rate, task }) => `${Math.round(task.worked)} ms (it lasted ${Math.round(task.lasted)}) at 1/${rate} of the speed`).join(', ')}`,
    );
  note(visits, dragged);
  const beyond = [...visits.flatMap(beyondOf), ...dragged.flatMap(beyondOfDrag)];
  console.log(beyond.length === 0 ? '\nAll within the goals.' : `\nBeyond the goals:\n  ${beyond.join('\n  ')}`);
  return beyond.length === 0;
}

function note(visits: readonly Visit[], dragged: readonly Dragged[]): void {
  const first = visits.find(({ path }) => path === '/');
  if (first) figure('the first page', `${Math.round(first.bytes / 1000)} kB`);
  const slowest = [...visits].sort((a, b) => b.usable - a.usable)[0];
  if (slowest) figure('the slowest page', `${Math.round(slowest.usable)} ms (${slowest.path.replace(ID, '…')})`);
  figure('most rounds of requests', String(Math.max(0, ...visits.map(({ rounds }) => rounds))));
  if (dragged.length === 0) return;
  const tasks = dragged.flatMap(({ longest }) => longest);
  const most = (at: number) =>
    Math.round(Math.max(0, ...tasks.filter(({ rate }) => rate === at).map(({ task }) => task.worked)));
  figure('longest task while a slider is dragged', SLOWER.map((rate) => `${most(rate)} ms at 1/${rate}`).join(', '));
}

const ID = /[0-9a-f]{8}-[0-9a-f-]{27}/;

/** BENCH_PAGES, part of an address, measures those alone. */
function isWanted(path: string): boolean {
  const { BENCH_PAGES } = process.env;
  return BENCH_PAGES === undefined || path.includes(BENCH_PAGES);
}

/** Opens a page and waits until it asks for nothing more. */
async function visit(page: Page, base: string, path: string): Promise<Visit> {
  await watch(page);
  await page.goto(base + path);
  await page.locator('main[aria-busy=false]').waitFor();
  await page.waitForLoadState('networkidle');
  const { sent, tasks, usable = Number.NaN } = await readWatch(page);
  return {
    ...{ path, usable, rounds: roundsOf(sent), task: longestOf(tasks) },
    bytes: sent.reduce((sum, one) => sum + one.bytes, 0),
    requests: sent.filter((one) => one.path.startsWith('/api/')).length,
  };
}

const inTask = (milliseconds: number) => (milliseconds === 0 ? 'under 50 ms' : `${Math.round(milliseconds)} ms`);

function told(visit: Visit): Visit {
  const { path, bytes, requests, rounds, usable, task } = visit;
  const short = path.replace(ID, '…');
  console.log(
    `${short.padEnd(26)} ${(bytes / 1000).toFixed(1).padStart(7)} kB ${String(requests).padStart(4)} requests ${rounds} rounds, ` +
      `usable after ${Math.round(usable).toString().padStart(5)} ms, longest task ${inTask(task)}`,
  );
  return visit;
}

function beyondOf({ path, bytes, rounds, usable }: Visit): string[] {
  return [
    ...(path === '/' && bytes > GOALS.bytes ? [`${path}: ${Math.round(bytes / 1000)} kB sent`] : []),
    ...(rounds > GOALS.rounds ? [`${path}: ${rounds} rounds of requests`] : []),
    ...(usable <= GOALS.usable ? [] : [`${path}: usable after ${Math.round(usable)} ms`]),
  ];
}

/** By how long a task worked: on a machine that others load it lasts longer, through no fault of the page. */
const beyondOfDrag = ({ path, slider, longest }: Dragged & { path: string }): string[] =>
  longest
    .filter(({ task }) => task.worked > GOALS.task)
    .map(
      ({ rate, task }) =>
        `${path}: a task worked ${Math.round(task.worked)} ms while “${slider}” was dragged, at 1/${rate} of the speed`,
    );

const served = await serveStudio();
const browser = await openChromium();
try {
  process.exitCode = (await measure(browser, served)) ? 0 : 1;
} finally {
  await browser.close();
  await served.stop();
}

// Takes the pictures of README.md and docs/ into docs/pictures: those of a desk that is full from a demo that is being served
// (npm run demo), that of a new studio from one that is made for it and thrown away.
//
//   npm run pictures                                all of them, from http://127.0.0.1:4747
//   npm run pictures -- http://127.0.0.1:4499 owes  one of them, from a demo at another address
//
// Look at each afterwards: what a page shows today depends on the day.
import { spawn } from 'node:child_process';
import { on } from 'node:events';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { eraseEmbedded } from '../src/database/embedded/server.ts';
import { openChromium } from '../tests/support/chromium.ts';

const DESK = { viewport: { width: 1280, height: 900 }, locale: 'en-GB' };
const PHONE = { viewport: { width: 360, height: 720 }, colorScheme: 'dark', locale: 'en-GB' };

/** A page from below the sample studio's banner, `height` pixels of it. */
const top = (path, height) => async (page, base) => {
  await show(page, base + path);
  return clipped(page, height);
};

/** A page as it is before the first scrolling, with what is fixed to the window's edge. */
const window = (path) => async (page, base) => {
  await show(page, base + path);
  const y = await headerTop(page);
  await page.evaluate((down) => scrollTo(0, down), y);
  return page.screenshot();
};

/** The page to which a link leads. */
const linked = (path, name, height) => async (page, base) => {
  await show(page, base + path);
  const link = page.getByRole('main').getByRole('link', { name }).first();
  await show(page, base + (await link.getAttribute('href')));
  return clipped(page, height);
};

/** The register of the course that comes first and somebody has booked. */
async function register(page, base) {
  const { items } = await (await page.request.get(`${base}/api/courses?is=ahead&order=firstDay`)).json();
  const { id } = items.find(({ kind, placesTaken }) => kind === 'course' && placesTaken > 0);
  return window(`/courses/${id}/register`)(page, base);
}

const kilnInSection = async (page, base) => {
  await show(page, `${base}/`);
  return page
    .locator('#firings article')
    .filter({ has: page.locator('svg') })
    .first()
    .screenshot();
};

/** The first page of a paper, drawn by another library than the one that wrote it. */
const paper = (kind, about) => async (page, base) => {
  const { items } = await (await page.request.get(`${base}/api/papers?kind=${kind}&limit=100`)).json();
  const { documentId } = items.find(({ name }) => name === about) ?? items[0];
  const pdf = await (await page.request.get(`${base}/api/documents/${documentId}/pdf`)).body();
  return drawn(page, pdf);
};

const PICTURES = {
  today: [DESK, top('/', 800)],
  'today-phone': [PHONE, window('/')],
  price: [DESK, top('/courses/price', 1200)],
  plan: [DESK, linked('/courses/plans', /two bowls and a mug/i, 850)],
  results: [DESK, top('/courses/results', 760)],
  places: [DESK, top('/courses/places', 900)],
  course: [DESK, linked('/courses', /^Lidded jars$/, 890)],
  register: [PHONE, register],
  person: [DESK, linked('/people?q=Odile', 'Odile Marsh', 1000)],
  ware: [DESK, top('/ware', 760)],
  kiln: [DESK, kilnInSection],
  shelf: [DESK, top('/shelf', 1000)],
  mixes: [DESK, top('/shelf/mixes', 1080)],
  owes: [DESK, top('/money', 885)],
  'first-steps': [DESK, firstSteps],
  receipt: [DESK, paper('receipt')],
  'credit-note': [DESK, paper('creditNote')],
  'collection-notice': [DESK, paper('collectionNotice', 'Luc Ferrand')],
};

async function show(page, address) {
  await page.goto(address);
  await settled(page);
}

async function settled(page) {
  await page.waitForLoadState('networkidle');
  await page.locator('main h1').waitFor();
  await page.locator('main [aria-busy=true]').waitFor({ state: 'detached' });
  await page.evaluate(() => document.fonts.ready);
}

const headerTop = (page) => page.evaluate(() => document.querySelector('header').getBoundingClientRect().top + scrollY);

async function clipped(page, height) {
  const { width } = page.viewportSize();
  const y = await headerTop(page);
  const all = await page.evaluate(() => document.documentElement.scrollHeight);
  return page.screenshot({ fullPage: true, clip: { x: 0, y, width, height: Math.min(height, all - y) } });
}

const packed = createRequire(import.meta.url);
const PDFJS = 'https://pdf.example/';
const EASEL = `<!doctype html><canvas></canvas>
<script type="module">import * as pdfjs from '/pdf.mjs'; globalThis.pdfjs = pdfjs;</script>`;

async function drawn(page, pdf) {
  await page.route(`${PDFJS}**`, async (route) => {
    const name = new URL(route.request().url()).pathname.slice(1);
    if (name === '') return route.fulfill({ contentType: 'text/html', body: EASEL });
    const body = await readFile(packed.resolve(`pdfjs-dist/build/${name}`));
    return route.fulfill({ contentType: 'text/javascript', body });
  });
  await page.goto(PDFJS);
  await page.evaluate(async (base64) => {
    const { getDocument, GlobalWorkerOptions } = globalThis.pdfjs;
    GlobalWorkerOptions.workerSrc = '/pdf.worker.mjs';
    const data = Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0));
    const first = await (await getDocument({ data }).promise).getPage(1);
    const viewport = first.getViewport({ scale: 1.3 });
    const canvas = document.querySelector('canvas');
    Object.assign(canvas, { width: viewport.width, height: viewport.height });
    await first.render({ canvas, viewport }).promise;
  }, pdf.toString('base64'));
  return page.locator('canvas').screenshot();
}

async function signIn(browser, base) {
  const window = await browser.newContext();
  const data = { email: 'mara@alderlane.example', password: 'alder lane demo' };
  const headers = { 'sec-fetch-site': 'same-origin' };
  const answer = await window.request.post(`${base}/api/sign-in`, { data, headers });
  if (!answer.ok()) throw new Error(`${base} answered ${answer.status()}: is it the demo?`);
  return window.storageState();
}

/** The first steps of a studio that has only been set up. */
async function firstSteps(page) {
  const data = await mkdtemp(join(tmpdir(), 'wareboard-pictures-'));
  const env = { ...process.env, WAREBOARD_DATA: data, DATABASE_URL: '', SMTP_URL: '', PORT: '0', LOG_LEVEL: 'warn' };
  const main = fileURLToPath(new URL('../dist/main.js', import.meta.url));
  const studio = spawn(process.execPath, [main, 'serve'], { env, stdio: ['ignore', 'pipe', 'inherit'] });
  const ended = new Promise((resolve) => studio.once('exit', resolve));
  try {
    await page.context().clearCookies(); // a cookie goes by host: that of the demo would be sent here too
    await page.goto(await linkFrom(studio.stdout));
    const fill = (label, text) => page.getByLabel(label, { exact: true }).fill(text);
    await fill('Your name', 'Mara Lind');
    await fill('Email address', 'mara@alderlane.example');
    await fill('Password', 'clay under the nails');
    await page.getByRole('button', { name: 'Make me the owner' }).click();
    await fill('Name', 'Alder Lane Pottery');
    await fill('Address', '7 Alder Lane\nOstlemere');
    await page.getByRole('button', { name: 'Enter the studio' }).click();
    await page.getByRole('link', { name: 'Take the first steps' }).waitFor();
    await show(page, new URL('/studio/start', page.url()).href);
    return await clipped(page, 900);
  } finally {
    studio.kill('SIGTERM');
    await ended;
    await eraseEmbedded(join(data, 'database'), () => undefined); // root's lies elsewhere
    await rm(data, { recursive: true });
  }
}

async function linkFrom(stdout) {
  let said = '';
  for await (const text of on(stdout, 'data')) {
    said += text;
    const [link] = /https?:\S+#\S+(?=\s)/.exec(said) ?? [];
    if (link) return link;
  }
  throw new Error('The new studio ended without a link.');
}

const [base = 'http://127.0.0.1:4747', ...only] = process.argv.slice(2);
const folder = fileURLToPath(new URL('../docs/pictures/', import.meta.url));
const browser = await openChromium();
try {
  const storageState = await signIn(browser, base);
  for (const [name, [options, take]] of Object.entries(PICTURES)) {
    if (only.length > 0 && !only.includes(name)) continue;
    const page = await (await browser.newContext({ ...options, storageState })).newPage();
    const picture = await take(page, base);
    await writeFile(join(folder, `${name}.png`), picture);
    await page.context().close();
    console.log(`${name}: ${Math.round(picture.length / 1000)} kB`);
  }
} finally {
  await browser.close();
}

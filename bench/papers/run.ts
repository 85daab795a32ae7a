// npm run bench:papers: what papers cost, against the same words by pdfkit alone, and what the API takes while they are written.
// PAPERS_DATA=folder keeps the invented studio there for another run.
import { availableParallelism, cpus } from 'node:os';
import { render } from '../../src/documents/render.js';
import { ThreadRenderer } from '../../src/documents/thread-renderer.js';
import { readLayout } from '../../tests/documents/read-back.js';
import { figure } from '../figures.js';
import { apiBench } from './api.js';
import { plainPaper } from './plain.js';
import { openPapers, type Paper, SOURCE_THREAD } from './studio.js';

const COUNT = 300;
const ROUNDS = 3;

type Draw = (i: number) => Promise<unknown>;

const cpuSeconds = () => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
};

async function many(draw: Draw, count = COUNT): Promise<number> {
  const before = cpuSeconds();
  for (let i = 0; i < count; i++) await draw(i);
  return cpuSeconds() - before;
}

/** The same papers by us and by pdfkit alone, in turn: seconds of the processor for 300 of each, the middle one of the rounds. */
async function compare(papers: readonly Paper[]): Promise<{ ours: number; plain: number }> {
  const at = <T>(all: readonly T[], i: number) => all[i % all.length] as T;
  const ours: Draw = (i) => render(at(papers, i).kind, at(papers, i).content, null);
  const words: string[][] = [];
  for (const { kind, content } of papers) {
    const pages = await readLayout(await render(kind, content, null));
    words.push(pages.map(({ items }) => items.map(({ text }) => text).join(' ')));
  }
  const plain: Draw = (i) => plainPaper(at(words, i));
  const found = { ours: [] as number[], plain: [] as number[] };
  for (const draw of [ours, plain]) await many(draw, 50); // warm
  for (let round = 0; round < ROUNDS; round++) {
    found.ours.push(await many(ours));
    found.plain.push(await many(plain));
  }
  const middle = (times: number[]) => times.sort((a, b) => a - b)[Math.floor(times.length / 2)] ?? Number.NaN;
  return { ours: middle(found.ours), plain: middle(found.plain) };
}

const ratio = ({ ours, plain }: { ours: number; plain: number }) =>
  `ratio ${(ours / plain).toFixed(1)} to the same words by pdfkit alone`;

const studio = await openPapers(process.env.PAPERS_DATA);
const of = (kind: string) => studio.papers.filter((each) => each.kind === kind);
console.log(`${availableParallelism()} processors: ${cpus()[0]?.model}; Node ${process.version}\n`);

const receipts = await compare(of('receipt'));
console.log(`receipts: ${(COUNT / receipts.ours).toFixed(0)} a second and core
  by pdfkit alone ${(COUNT / receipts.plain).toFixed(0)}; ${ratio(receipts)}\n`);
figure('receipts a second and core', (COUNT / receipts.ours).toFixed(0));
const notices = await compare(of('collectionNotice'));
console.log(`${COUNT} collection notices: ${notices.ours.toFixed(1)} s of the processor
  by pdfkit alone ${notices.plain.toFixed(1)} s; ${ratio(notices)}\n`);

figure('300 collection notices', `${notices.ours.toFixed(1)} s of CPU`);
const thread = new ThreadRenderer({ thread: SOURCE_THREAD });
await Promise.all(of('receipt').map(({ kind, content }) => thread.render(kind, content, null))); // warm
const began = performance.now();
await Promise.all(of('receipt').map(({ kind, content }) => thread.render(kind, content, null)));
console.log(
  `receipts from the thread: ${((of('receipt').length * 1000) / (performance.now() - began)).toFixed(0)} a second\n`,
);
await thread.close();

await apiBench(studio);
await studio.stop();

// npm run bench:start: how long the built program takes until its first page is there, over nothing (the demo) and over what is there.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { figure } from '../figures.js';
import { startProgram } from '../program.js';

const ROUNDS = 3;
const WARM_ROUNDS = 5;
const GOAL_SECONDS = { demo: 15, serve: 2 };

/** The demo is open before it has written its report and its papers. */
const ANSWERS = /is (?:open )?at (http:\/\/127\.0\.0\.1:\d+)/;

/** Seconds from the process's start until the desk's page and the health of the database are answered. */
async function secondsToFirstPage(command: 'demo' | 'serve', folder: string): Promise<number> {
  const began = performance.now();
  const { base, stop } = await startProgram(command, folder, ANSWERS);
  for (const path of ['/', '/ready']) {
    const answer = await fetch(base + path);
    if (!answer.ok) throw new Error(`${path} answers ${answer.status}`);
    await answer.arrayBuffer();
  }
  const seconds = (performance.now() - began) / 1000;
  await stop();
  return seconds;
}

const middle = (numbers: number[]) => [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)] ?? Number.NaN;

const folders: string[] = [];
const found = { demo: [] as number[], serve: [] as number[] };
for (let round = 0; round < ROUNDS; round++) {
  const folder = await mkdtemp(join(tmpdir(), 'wareboard-start-'));
  folders.push(folder);
  found.demo.push(await secondsToFirstPage('demo', folder));
}
for (let round = 0; round < WARM_ROUNDS; round++) found.serve.push(await secondsToFirstPage('serve', folders[0] ?? ''));
for (const folder of folders) await rm(folder, { recursive: true, force: true });

const told = (times: number[]) => `${middle(times).toFixed(1)} s (${times.map((time) => time.toFixed(1)).join(', ')})`;
console.log(`the demo from nothing: ${told(found.demo)}, goal ${GOAL_SECONDS.demo}`);
console.log(`a studio that is there: ${told(found.serve)}, goal ${GOAL_SECONDS.serve}`);
figure('start: the demo', `${middle(found.demo).toFixed(1)} s`);
figure('start: warm', `${middle(found.serve).toFixed(1)} s`);
process.exitCode = middle(found.demo) <= GOAL_SECONDS.demo && middle(found.serve) <= GOAL_SECONDS.serve ? 0 : 1;

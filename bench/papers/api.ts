import { fork } from 'node:child_process';
import { once } from 'node:events';
import { performance } from 'node:perf_hooks';
import { setTimeout as sleep } from 'node:timers/promises';
import { figure } from '../figures.js';
import type { openPapers } from './studio.js';

/** What is read often and quickly. */
const LIGHT = ['/api/me', '/api/rooms', '/api/people?limit=20', '/api/materials?limit=20'];
const EVERY_MILLISECONDS = 40;
const SECONDS = 10;
const ROUNDS = 3;
const PAPERS_AT_ONCE = 2; // as many letters as the worker delivers at once

type Studio = Awaited<ReturnType<typeof openPapers>>;

async function start(url: string, way: 'thread' | 'here') {
  const child = fork(new URL('./server.ts', import.meta.url), [url, way]);
  const [{ port, session }] = (await once(child, 'message')) as [{ port: number; session: string }];
  let callers = 0;
  const get = async (address: string) => {
    const from = `10.1.${(++callers >> 8) % 256}.${callers % 256}`; // so many from one address would be refused
    const headers = { cookie: `wareboard=${session}`, 'x-forwarded-for': from, 'sec-fetch-site': 'same-origin' };
    const answer = await fetch(`http://127.0.0.1:${port}${address}`, { headers });
    await answer.arrayBuffer();
    if (answer.status !== 200) throw new Error(`${address} answers ${answer.status}`);
  };
  const stop = async () => {
    child.disconnect();
    await once(child, 'exit');
  };
  return { get, stop };
}

type Server = Awaited<ReturnType<typeof start>>;

/** How long light requests took that were sent at fixed times, whether or not the one before was answered. */
async function readLightly({ get }: Server): Promise<number[]> {
  const began = performance.now();
  const took: Promise<number>[] = [];
  for (let n = 0; n < (SECONDS * 1000) / EVERY_MILLISECONDS; n++) {
    const due = began + n * EVERY_MILLISECONDS;
    const early = due - performance.now();
    if (early > 0) await sleep(early);
    took.push(get(LIGHT[n % LIGHT.length] ?? '').then(() => performance.now() - due));
  }
  return Promise.all(took);
}

/** The same while papers are written without a pause. */
async function readWhilePapers(server: Server, studio: Studio): Promise<{ times: number[]; papers: number }> {
  await studio.forgetRenderings();
  let isOver = false;
  let papers = 0;
  let next = 0;
  const write = async () => {
    while (!isOver) {
      if (next >= studio.papers.length) {
        next = 0;
        await studio.forgetRenderings();
      }
      await server.get(`/api/documents/${studio.papers[next++]?.id}/pdf`);
      papers++;
    }
  };
  const writing = Array.from({ length: PAPERS_AT_ONCE }, write);
  const times = await readLightly(server);
  isOver = true;
  await Promise.all(writing);
  return { times, papers };
}

const p99 = (times: number[]) => times.sort((a, b) => a - b)[Math.floor(times.length * 0.99)] ?? Number.NaN;

/** Says what light requests take while papers are written, in a thread of their own and in the thread that answers, and while none are. */
export async function apiBench(studio: Studio): Promise<void> {
  const [thread, here] = [await start(studio.url, 'thread'), await start(studio.url, 'here')];
  const found = { none: [] as number[], thread: [] as number[], here: [] as number[] };
  const papers = { thread: 0, here: 0 };
  for (const server of [thread, here]) await readWhilePapers(server, studio); // warm
  for (let round = 0; round < ROUNDS; round++) {
    found.none.push(...(await readLightly(thread)));
    for (const [way, server] of [
      ['thread', thread],
      ['here', here],
    ] as const) {
      const { times, papers: written } = await readWhilePapers(server, studio);
      found[way].push(...times);
      papers[way] += written;
    }
  }
  await thread.stop();
  await here.stop();
  const quiet = p99(found.none);
  figure('the API while papers are written, p99', `${(p99(found.thread) / quiet).toFixed(1)} times`);
  const told = (times: number[]) =>
    `99th percentile ${p99(times).toFixed(1)} ms, ${(p99(times) / quiet).toFixed(1)} times`;
  const rate = (written: number) => `${(written / (ROUNDS * SECONDS)).toFixed(0)} papers a second`;
  console.log(`${LIGHT.join(', ')}: one every ${EVERY_MILLISECONDS} ms, ${found.none.length} of each
  while no paper is written: 99th percentile ${quiet.toFixed(1)} ms
  while papers are written in their thread: ${told(found.thread)} (${rate(papers.thread)})
  while they are written in the thread that answers: ${told(found.here)} (${rate(papers.here)})`);
}

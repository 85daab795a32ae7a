// npm run bench:all: every bench in turn, then what each figure was before, what it is now, and what it should be. About half an hour on
// a quiet machine. GROWTH_DATA=folder uses the studio of ten years that is kept there; ONLY="start papers" runs some of them.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';

/** Each bench, by its script, and what it is told. */
const BENCHES: Record<string, NodeJS.ProcessEnv> = {
  start: {},
  growth: { CALLS: '25' },
  bookings: {},
  papers: {},
  desk: {},
  memory: {},
  '': {}, // the arithmetic
};

type Line = { figure: string; before: string; goal: string };

/**
 * Before: commit e82e2cb, over HTTP, in the invented studio's year copied into ten (1,829 courses, 21,161 bookings, 86,279 pieces), on a
 * machine like this one.
 */
const LINES: readonly Line[] = [
  ...[
    ['/api/today', '4,587 ms, 74 statements', '50 ms, 25 statements'],
    ['/api/courses/{coming}/price', '232 ms, 36 statements', '50 ms, 15 statements'],
    ['/api/course-plans/{planId}/proposals', '3,625 ms', '50 ms'],
    ['/api/courses/{over}/afterwards', '550 ms', '50 ms'],
    ['/api/order-proposal', '494 ms', '50 ms'],
    ['/api/outlook', '381 ms', '50 ms'],
    ['/api/debtors', '2,277 ms', '50 ms'],
    ['/api/account-balances', '90 ms', 'a report'],
  ].map(([figure = '', before = '', goal = '']) => ({ figure, before, goal })),
  { figure: 'GETs beyond a ratio of 1.5 or 50 ms', before: 'not counted', goal: '0' },
  { figure: 'check, ten years', before: 'died at 30 s', goal: '60 s' },
  { figure: 'bookings of one course', before: '0.09 to 0.25 of pg by hand', goal: '0.5' },
  { figure: 'bookings of 50 courses', before: '0.09 to 0.25 of pg by hand', goal: '0.5' },
  { figure: 'payments with a receipt', before: 'not measured', goal: '0.5' },
  { figure: 'receipts a second and core', before: '38.6', goal: '80' },
  { figure: '300 collection notices', before: '7.8 s of CPU', goal: '4 s' },
  { figure: 'the API while papers are written, p99', before: '10 times', goal: '2 times' },
  { figure: 'start: warm', before: '2.7 s', goal: '2 s' },
  { figure: 'start: the demo', before: '26 s', goal: '15 s' },
  { figure: 'memory under load', before: '570 MB after an hour', goal: '300 MB' },
  { figure: 'the first page', before: '476 kB', goal: '150 kB' },
  { figure: 'the slowest page', before: '9 s (selling)', goal: '1 s' },
  { figure: 'most rounds of requests', before: '82 requests in a row', goal: '2' },
  { figure: 'longest task while a slider is dragged', before: '83 ms, 416 at 1/4', goal: '50 ms' },
  { figure: 'the dense shelf', before: '1.2 s', goal: '200 ms' },
];

const wanted = process.env.ONLY?.split(' ') ?? Object.keys(BENCHES);
const folder = await mkdtemp(join(tmpdir(), 'wareboard-figures-'));
const figures = join(folder, 'figures');
const failed: string[] = [];
for (const [name, told] of Object.entries(BENCHES)) {
  if (!wanted.includes(name)) continue;
  const script = name === '' ? 'bench' : `bench:${name}`;
  const env: NodeJS.ProcessEnv = { ...process.env, ...told, FIGURES: figures };
  delete env.ONLY; // it would be taken for an address
  const child = spawn('npm', ['run', script], { env, stdio: 'inherit' });
  const [code] = (await once(child, 'close')) as [number];
  if (code !== 0) failed.push(script);
}

const lines = (await readFile(figures, 'utf8').catch(() => '')).split('\n').filter((line) => line !== '');
const now = new Map(lines.map((line) => JSON.parse(line) as [string, string]));
await rm(folder, { recursive: true });
console.log(
  `\n${cpus().length} processors (${cpus()[0]?.model}), Node ${process.version}, ${new Date().toISOString()}\n`,
);
console.log('| | before | now | goal |\n|---|---|---|---|');
for (const { figure, before, goal } of LINES)
  console.log(`| ${figure} | ${before} | ${now.get(figure) ?? 'not measured'} | ${goal} |`);
if (failed.length > 0) console.log(`\nBeyond their goals, as each says above: ${failed.join(', ')}.`);
process.exitCode = failed.length === 0 ? 0 : 1;

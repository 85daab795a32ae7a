// npm run bench:growth: a studio of one year and one of ten, and what each GET of the API takes in both, in turn, in one run.
// GROWTH_DATA=folder keeps the studio of ten years there, to be opened by WAREBOARD_DATA=folder npm start. ONLY=regex: some addresses.
import { performance } from 'node:perf_hooks';
import pg from 'pg';
import { addressesOf, filled, idsOf } from '../../tests/support/addresses.js';
import { figure } from '../figures.js';
import { openStudio, type Studio } from './studio.js';
import { makeStudios } from './studios.js';

const CALLS = Number(process.env.CALLS ?? 30);
const WARM_UP_CALLS = 3;
const RATIO_MAX = 1.5;
/** What takes less in the big studio is quick, whatever it takes in the small one. */
const QUICK_MILLISECONDS = 5;
const P99_MILLISECONDS_MAX = 50;

/** May take longer the longer the books are, and why. */
const REPORTS: Record<string, string> = {
  '/api/account-balances':
    'the bookkeeper asks for it a few times a year; it adds up every posting, and a kept sum would make all who pay wait for each other',
};

type Row = { address: string; small: number[]; big: number[]; statements: number; bytes: number };

const studios = await makeStudios(process.env.GROWTH_DATA);
const [small, big] = [await openStudio(studios.oneYear), await openStudio(studios.tenYears)];
const only = new RegExp(process.env.ONLY ?? '');
const rows: Row[] = [];
for (const address of addressesOf(await small.paths())) {
  if (!only.test(address)) continue;
  const [a, b] = [filled(address, await idsIn(small)), filled(address, await idsIn(big))];
  if (a === null || b === null) {
    console.log(`  ${address}: not measured, since the studio has none of it`);
    continue;
  }
  const { status } = await big.get(b);
  if (status === 200) rows.push(await measure(address, a, b));
  else console.log(`  ${address}: not measured, since it answers ${status} here`);
}
tell(rows);
await small.close();
await big.close();
await studios.stop();

async function idsIn({ url }: Studio) {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  return idsOf(client).finally(() => client.end());
}

async function measure(address: string, a: string, b: string): Promise<Row> {
  const row: Row = { address, small: [], big: [], statements: 0, bytes: 0 };
  for (let call = -WARM_UP_CALLS; call < CALLS; call++) {
    const [one, ten] = [await timed(small, a), await timed(big, b)];
    if (call < 0) continue;
    row.small.push(one.milliseconds);
    row.big.push(ten.milliseconds);
    Object.assign(row, { statements: ten.statements, bytes: ten.bytes });
  }
  for (const times of [row.small, row.big]) times.sort((x, y) => x - y);
  return row;
}

async function timed(studio: Studio, address: string) {
  const began = performance.now();
  const answer = await studio.get(address);
  return { ...answer, milliseconds: performance.now() - began };
}

function tell(measured: Row[]): void {
  const at = (times: number[], part: number) =>
    times[Math.min(times.length - 1, Math.floor(times.length * part))] ?? Number.NaN;
  const told = measured.map((row) => {
    const [one, ten, late] = [at(row.small, 0.5), at(row.big, 0.5), at(row.big, 0.99)];
    const grows = ten > QUICK_MILLISECONDS && ten / one > RATIO_MAX;
    return {
      ...row,
      one,
      ten,
      late,
      faults: [grows && 'grows', late > P99_MILLISECONDS_MAX && 'slow'].filter(Boolean).join(', '),
    };
  });
  console.log('\nmedian of one year -> of ten, 99th percentile of ten, ratio, statements, bytes');
  for (const { address, one, ten, late, statements, bytes, faults } of told.sort((x, y) => y.ten - x.ten))
    console.log(
      `  ${address.padEnd(52)} ${one.toFixed(1).padStart(7)} -> ${ten.toFixed(1).padStart(7)} ms  ${late.toFixed(1).padStart(7)} ms  x${(ten / one).toFixed(2).padEnd(6)} ${String(statements).padStart(3)} ${String(bytes).padStart(8)}  ${faults}`,
    );
  for (const { address, one, ten, late, statements } of told)
    figure(address, `${one.toFixed(0)} → ${ten.toFixed(0)} ms, p99 ${late.toFixed(0)}, ${statements} statements`);
  for (const [address, reason] of Object.entries(REPORTS)) console.log(`  ${address} is a report: ${reason}.`);
  const missed = told.filter(({ address, faults }) => faults !== '' && !(address in REPORTS));
  console.log(
    `\n${measured.length} addresses, ${missed.length} beyond a ratio of ${RATIO_MAX} or ${P99_MILLISECONDS_MAX} ms`,
  );
  figure('GETs beyond a ratio of 1.5 or 50 ms', `${missed.length} of ${measured.length}`);
  process.exitCode = missed.length === 0 ? 0 : 1;
}

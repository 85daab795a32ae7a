// npm run bench:memory [minutes]: what the server has in memory while it works, against the same server just started. On Linux.
import { availableParallelism, cpus } from 'node:os';
import { setTimeout as sleep } from 'node:timers/promises';
import { figure } from '../figures.js';
import { openLoad } from './load.js';
import { startServer } from './server.js';

const MINUTES = Number(process.argv[2] ?? 10);
const GOAL_MEGABYTES = 300;
const EVERY_SECONDS = 5;
const IDLE_SECONDS = 10;
/** Before this part of the time is over, caches fill and code is compiled. */
const WARM = 0.25;
const STEADY_MEGABYTES_AN_HOUR = 20;

const mean = (numbers: readonly number[]) => numbers.reduce((sum, n) => sum + n, 0) / numbers.length;
/** By how much it grows an hour, by the straight line nearest to all that was seen. */
function growth(seen: readonly { hour: number; now: number }[]): number {
  const [x, y] = [mean(seen.map(({ hour }) => hour)), mean(seen.map(({ now }) => now))];
  const over = seen.reduce((sum, { hour }) => sum + (hour - x) ** 2, 0);
  return seen.reduce((sum, { hour, now }) => sum + (hour - x) * (now - y), 0) / over;
}

if (process.platform !== 'linux') throw new Error('Only Linux tells what a process has in memory as this needs it.');
if (!(MINUTES > 0)) throw new Error('Give the minutes as a number above zero: npm run bench:memory 15');
const server = await startServer();
await sleep(IDLE_SECONDS * 1000);
const idle = (await server.memory()).now;
console.log(
  `${availableParallelism()} processors: ${cpus()[0]?.model}; Node ${process.version}; node ${server.args.join(' ')}`,
);
console.log(`just started: ${idle.toFixed(0)} MB\n`);

const seen: { hour: number; now: number }[] = [];
const { told, reads, most } = await watch().finally(() => server.stop());

async function watch() {
  const load = await openLoad(server);
  const began = performance.now();
  const hours = () => (performance.now() - began) / 3_600_000;
  while (hours() * 60 < MINUTES) {
    await Promise.race([sleep(EVERY_SECONDS * 1000), load.failed]);
    await load.sweep();
    seen.push({ hour: hours(), now: (await server.memory()).now });
    const minute = seen.slice(-60 / EVERY_SECONDS).map(({ now }) => now);
    if (seen.length % minute.length === 0 && minute.length === 60 / EVERY_SECONDS)
      console.log(`${(hours() * 60).toFixed(0)} min: ${mean(minute).toFixed(0)} MB`);
  }
  await load.stop();
  return { ...load, ...(await server.memory()) };
}

const warm = seen.filter(({ hour }) => hour * 60 >= WARM * MINUTES);
const tenth = Math.max(1, Math.floor(seen.length / 10));
const grows = growth(warm);
const { requests, bookings, payments, busy } = told;
console.log(
  `\n${requests} requests to ${reads.length} addresses, ${bookings} bookings and ${payments} payments in ${MINUTES} min; ${busy} answered that the machine is too busy`,
);
console.log(`just started ${idle.toFixed(0)} MB`);
console.log(`once warm ${mean(warm.slice(0, tenth).map(({ now }) => now)).toFixed(0)} MB`);
console.log(`at the end ${mean(warm.slice(-tenth).map(({ now }) => now)).toFixed(0)} MB`);
console.log(
  `at most ${most.toFixed(0)} MB, ${(most / idle).toFixed(1)} times as much as just started (goal ${GOAL_MEGABYTES} MB)`,
);
console.log(
  grows > STEADY_MEGABYTES_AN_HOUR
    ? `it still grew, by ${grows.toFixed(0)} MB an hour`
    : `it no longer grew (${grows.toFixed(0)} MB an hour)`,
);
figure('memory under load', `${most.toFixed(0)} MB at most in ${MINUTES} min`);
if (most > GOAL_MEGABYTES) process.exitCode = 1;

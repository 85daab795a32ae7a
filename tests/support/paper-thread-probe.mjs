// Loaded into the program by NODE_OPTIONS: notes each thread that begins, and ends the first of them at its first paper.
import { appendFileSync, existsSync } from 'node:fs';
import { isMainThread, parentPort } from 'node:worker_threads';

const { THREADS_FILE } = process.env;
if (!isMainThread && THREADS_FILE) {
  if (!existsSync(THREADS_FILE)) parentPort.once('message', () => process.exit(9));
  appendFileSync(THREADS_FILE, 'begun\n');
}

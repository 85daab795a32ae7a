// A worker in a process of its own, which a test can kill: node worker-process.mjs <rhythm as JSON>
import { pino } from 'pino';
import { builtHouse } from './built-house.mjs';

const { openDatabase } = await builtHouse('database/client.js');
const { smtp } = await builtHouse('mail/smtp.js');
const { startWorker } = await builtHouse('worker/worker.js');

const { DATABASE_URL = '', SMTP_URL = '' } = process.env;
const { db } = await openDatabase(DATABASE_URL, { max: 3 });
const from = { name: 'Alder Lane Pottery', address: 'bench@alderlane.example' };
const post = { db, now: () => new Date(), transport: smtp(SMTP_URL, 300_000), writesFiles: false, from };
await startWorker(DATABASE_URL, post, pino({ level: 'info' }, pino.destination(2)), JSON.parse(process.argv[2] ?? ''));
process.stdout.write('working\n');

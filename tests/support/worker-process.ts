// A worker in a process of its own, which a test can kill: node --import tsx worker-process.ts <rhythm as JSON>
import { pino } from 'pino';
import { openDatabase } from '../../src/database/client.js';
import { smtp } from '../../src/mail/smtp.js';
import { startWorker } from '../../src/worker/worker.js';

const { DATABASE_URL = '', SMTP_URL = '' } = process.env;
const { db } = await openDatabase(DATABASE_URL, { max: 3 });
const from = { name: 'Alder Lane Pottery', address: 'bench@alderlane.example' };
const post = { db, now: () => new Date(), transport: smtp(SMTP_URL), writesFiles: false, from };
await startWorker(DATABASE_URL, post, pino({ level: 'info' }, pino.destination(2)), JSON.parse(process.argv[2] ?? ''));
process.stdout.write('working\n');

import type { Database } from '../database/transaction.js';
import { buildApp } from '../server/app.js';

/** Prints the OpenAPI document. No database is needed: no route is called. */
export async function openapi(): Promise<void> {
  const app = await buildApp({ db: null as unknown as Database });
  await app.ready();
  process.stdout.write(`${JSON.stringify(app.swagger(), null, 2)}\n`);
  await app.close();
}

// A program of its own for api.ts: the API over a database, with papers written in a thread of their own or in the thread that answers.
import type { AddressInfo } from 'node:net';
import { openDatabase } from '../../src/database/client.js';
import { inThisThread } from '../../src/documents/renderer.js';
import { ThreadRenderer } from '../../src/documents/thread-renderer.js';
import { buildApp } from '../../src/server/app.js';
import { openSessionOfOwner } from '../../src/studio/staff/sign-in.js';
import { SOURCE_THREAD } from './studio.js';

const [, , url = '', way] = process.argv;
const { db, close } = await openDatabase(url);
const thread = new ThreadRenderer({ thread: SOURCE_THREAD });
const app = await buildApp({ db, trustProxy: true, renderer: way === 'thread' ? thread : inThisThread });
await app.listen({ host: '127.0.0.1', port: 0 });
const { port } = app.server.address() as AddressInfo;
process.send?.({ port, session: await openSessionOfOwner(db, new Date()) });
process.once('disconnect', async () => {
  await app.close();
  await thread.close();
  await close();
});

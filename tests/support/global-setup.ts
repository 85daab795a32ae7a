import type { TestProject } from 'vitest/node';
import { startTestServer, type TestServer } from './server.js';

declare module 'vitest' {
  interface ProvidedContext {
    testServer: { url: string; template: string };
  }
}

/** Projects that need no database; '' is vitest's own root. */
const WITHOUT = new Set(['unit', 'reference', 'house', '']);

let server: Promise<TestServer> | undefined;
let users = 0;

/** Runs once for each project of which a test runs; the first that needs the database server starts it, the last stops it. */
export default async function setUp(project: TestProject) {
  if (WITHOUT.has(project.name)) return;
  users++;
  server ??= startTestServer();
  const { url, template } = await server;
  project.provide('testServer', { url, template });
  return async () => {
    users--;
    if (users === 0) await (await server)?.stop();
  };
}

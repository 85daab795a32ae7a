import type { TestProject } from 'vitest/node';
import { startTestServer } from './server.js';

declare module 'vitest' {
  interface ProvidedContext {
    testServer: { url: string; template: string };
  }
}

/** Projects that need no database; '' is vitest's own root. */
const WITHOUT = new Set(['unit', 'reference', 'house', '']);

/**
 * Runs once for each project of which a test runs, in a module of its own: each project that needs a database server has its own,
 * and stops it when its tests are done.
 */
export default async function setUp(project: TestProject) {
  if (WITHOUT.has(project.name)) return;
  const { url, template, stop } = await startTestServer();
  project.provide('testServer', { url, template });
  return stop;
}

import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

/** For what hangs. What is only slow, on a machine that others load, must pass. */
const HANGS_AFTER_MILLISECONDS = 600_000;

const project = (name: string, include: string[]) => ({
  extends: true as const,
  // The files of a worker share what they import: reading Prisma's client anew for each took a third of all the time.
  test: {
    name,
    isolate: false,
    include,
    testTimeout: HANGS_AFTER_MILLISECONDS,
    hookTimeout: HANGS_AFTER_MILLISECONDS,
    expect: { poll: { timeout: HANGS_AFTER_MILLISECONDS / 2 } },
  },
});

export default defineConfig({
  test: {
    maxWorkers: availableParallelism(), // its own choice leaves one processor out, and databases and browsers wait much themselves
    globalSetup: ['tests/support/global-setup.ts'],
    reporters: ['default', './tests/support/closing-line.ts'],
    projects: [
      project('unit', ['tests/{trade,documents,mail,config,http,house}/**/*.test.ts', 'tests/*.test.ts']),
      project('reference', ['tests/reference/**/*.test.ts']),
      project('integration', ['tests/{database,studio,server,worker,commands}/**/*.test.ts']),
      project('acceptance', ['tests/acceptance/**/*.test.ts']),
      project('browser', ['tests/desk/**/*.test.{ts,tsx}']),
    ],
  },
});

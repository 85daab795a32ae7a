import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

/** For what hangs. What is only slow, on a machine that others load, must pass. */
const HANGS_AFTER_MILLISECONDS = 600_000;

/** What tests may need; each is started once for all projects of a run that name it. */
type SetUp = 'database' | 'chromium' | 'program' | 'desk';

const project = (name: string, include: string[], needs: SetUp[] = []) => ({
  extends: true as const,
  // The files of a worker share what they import: reading Prisma's client anew for each took a third of all the time.
  test: {
    name,
    isolate: false,
    include,
    globalSetup: needs.map((each) => `tests/support/set-up/${each}.ts`),
    testTimeout: HANGS_AFTER_MILLISECONDS,
    hookTimeout: HANGS_AFTER_MILLISECONDS,
    expect: { poll: { timeout: HANGS_AFTER_MILLISECONDS / 2 } },
  },
});

const UNIT = ['tests/{trade,documents,mail,config,http,house,desk-without-browser}/**/*.test.ts', 'tests/*.test.ts'];
const INTEGRATION = ['tests/{database,studio,server,worker,commands}/**/*.test.ts'];

export default defineConfig({
  test: {
    maxWorkers: availableParallelism(), // its own choice leaves one processor out, and databases and browsers wait much themselves
    reporters: ['default', './tests/support/closing-line.ts'],
    projects: [
      project('unit', UNIT),
      project('reference', ['tests/reference/**/*.test.ts']),
      project('integration', INTEGRATION, ['program', 'database']),
      project('acceptance', ['tests/acceptance/**/*.test.ts'], ['program']),
      project('browser', ['tests/desk/**/*.test.{ts,tsx}'], ['desk', 'database', 'chromium']),
    ],
  },
});

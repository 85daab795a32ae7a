import { defineConfig } from 'vitest/config';

const project = (name: string, include: string[], slow = false) => ({
  extends: true as const,
  // The files of a worker share what they import: reading Prisma's client anew for each took a third of all the time.
  test: { name, isolate: false, include, testTimeout: slow ? 60_000 : 10_000, hookTimeout: 120_000 },
});

export default defineConfig({
  test: {
    globalSetup: ['tests/support/global-setup.ts'],
    reporters: ['default', './tests/support/closing-line.ts'],
    projects: [
      project('unit', ['tests/{trade,documents,mail,config,http,house}/**/*.test.ts', 'tests/*.test.ts'], true),
      project('reference', ['tests/reference/**/*.test.ts']),
      project('integration', ['tests/{database,studio,server,worker,commands}/**/*.test.ts'], true),
      project('acceptance', ['tests/acceptance/**/*.test.ts'], true),
      project('browser', ['tests/desk/**/*.test.{ts,tsx}'], true),
    ],
  },
});

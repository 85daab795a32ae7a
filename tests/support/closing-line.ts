import type { Reporter, TestModule } from 'vitest/node';

/** Ends a test run with `N passed, N failed` on a line of its own, which people and machines read alike. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    process.stdout.write(`\n${closingLine(modules, errors.length)}\n`);
  }
}

/** What there is to count: a file that could not be read, or whose set-up failed, counts as one failure. */
type Counted = Pick<TestModule, 'ok' | 'children'>;

export function closingLine(modules: readonly Counted[], errors: number): string {
  const states = modules.flatMap((module) => {
    const own = [...module.children.allTests()].map((test) => test.result().state);
    return module.ok() || own.includes('failed') ? own : [...own, 'failed'];
  });
  const passed = states.filter((state) => state === 'passed').length;
  const failed = states.filter((state) => state === 'failed').length + errors;
  const skipped = states.filter((state) => state === 'skipped' || state === 'pending').length;
  return `${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`;
}

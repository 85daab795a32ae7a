import { expect, test } from 'vitest';
import { closingLine, countLines } from '../support/closing-line.js';

type State = 'passed' | 'failed' | 'skipped' | 'pending';
type Modules = Parameters<typeof closingLine>[0];

/** A test file as vitest reports it: the states of its tests, and whether it could be set up. */
function file(states: State[], couldStart = true) {
  const tests = states.map((state) => ({ result: () => ({ state }) }));
  const ok = () => couldStart && !states.includes('failed');
  return { ok, children: { allTests: () => tests.values() } } as unknown as Modules[number];
}

test.each([
  ['3 passed, 0 failed', [file(['passed', 'passed']), file(['passed'])], 0],
  ['1 passed, 2 failed, 2 skipped', [file(['failed', 'passed', 'skipped']), file(['failed', 'pending'])], 0],
  ['1 passed, 1 failed', [file(['passed']), file([], false)], 0],
  ['0 passed, 1 failed, 1 skipped', [file(['skipped'], false)], 0],
  ['1 passed, 2 failed', [file(['passed'])], 2],
] as const)('a run closes with %s', (line, modules, errors) => {
  expect(closingLine(modules, errors)).toBe(line);
});

test('before it stands how many tests each project has', () => {
  const of = (name: string, states: State[]) => ({ ...file(states), project: { name } });
  const modules = [of('unit', ['passed', 'failed']), of('browser', ['skipped']), of('unit', ['passed'])];
  expect(countLines(modules)).toEqual(['browser: 1 tests in 1 files', 'unit: 3 tests in 2 files']);
});

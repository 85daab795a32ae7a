import { beforeAll, expect, test } from 'vitest';
import { runOnPlants } from './plant.js';

/** Each planted fault, and what Biome has to say of it. */
const FAULTS: Record<string, [rule: string, source: string]> = {
  'src/studio/any.ts': ['suspicious/noExplicitAny', 'export const first = (rows: any) => rows[0];\n'],
  'src/studio/print.ts': ['suspicious/noConsole', "console.log('sold');\n"],
  'src/studio/type.ts': [
    'style/useImportType',
    "import { Right } from './right.js';\n\nexport const is = (right: Right) => right;\n",
  ],
  'src/studio/default.ts': ['style/noDefaultExport', 'export default 1;\n'],
  'src/studio/dropped.ts': [
    'nursery/noFloatingPromises',
    'async function save() {}\n\nexport function close() {\n  save();\n}\n',
  ],
  'src/studio/bang.ts': ['style/noNonNullAssertion', 'export const first = (names: string[]) => names[0]!.length;\n'],
  'src/studio/unused.ts': ['correctness/noUnusedImports', "import { readFile } from 'node:fs';\n"],
  'src/studio/thrown.ts': ['style/useThrowOnlyError', "export function stop() {\n  throw 'full';\n}\n"],
  'tests/skipped.test.ts': ['suspicious/noSkippedTests', "test.skip('later', () => {});\n"],
  'tests/alone.test.ts': ['suspicious/noFocusedTests', "test.only('this one', () => {});\n"],
  'src/studio/format.ts': ['format', 'export const name = "Ines"\n'],
};
const RIGHT = { 'src/studio/right.ts': 'export interface Right {\n  name: string;\n}\n' };
const PRINTING = { 'src/commands/tell.ts': "console.log('sold');\n" };

type Report = { diagnostics: { category: string; location: { path: { file: string } | string } }[] };
let said: string[] = [];

beforeAll(async () => {
  const planted = Object.entries(FAULTS).map(([path, [, source]]) => [path, source]);
  const { failed, printed } = await runOnPlants(
    ['@biomejs/biome/bin/biome', 'check', '--reporter=json', '--error-on-warnings', '.'],
    ['biome.json'],
    { ...Object.fromEntries(planted), ...RIGHT, ...PRINTING },
  );
  expect(failed).toBe(true);
  const report: Report = JSON.parse(printed);
  said = report.diagnostics.map(({ category, location: { path } }) => {
    const file = typeof path === 'string' ? path : path.file;
    return `${file.replaceAll('\\', '/')}: ${category.replace(/^lint\//, '')}`;
  });
});

test.each(Object.entries(FAULTS))('%s is refused', (path, [rule]) => {
  expect(said.filter((each) => each.startsWith(path))).toEqual([`${path}: ${rule}`]);
});

test('commands may print, and sound code is left alone', () => {
  expect(said.filter((each) => /commands|right/.test(each))).toEqual([]);
});

import { expect, test } from 'vitest';
import { runOnPlants } from './plant.js';

type Named = { name: string };
type Issue = { file: string; files: Named[]; exports: Named[]; dependencies: Named[]; unlisted: Named[] };

test('a dead file, a dead export, a dead dependency and one that nobody listed are found', async () => {
  const { failed, printed } = await runOnPlants(['knip/bin/knip.js', '--reporter', 'json'], ['knip.json'], {
    'package.json': JSON.stringify({
      name: 'plants',
      type: 'module',
      main: 'src/main.ts',
      dependencies: { zod: '4', uuid: '14' },
    }),
    'src/main.ts': "import { v7 } from 'uuid';\nimport 'fastify';\nimport { kiln } from './kiln.js';\nkiln(v7());\n",
    'src/kiln.ts': 'export const kiln = (id: string) => id;\nexport const forgotten = 1;\n',
    'src/left-over.ts': 'export const leftOver = 1;\n',
  });
  const issues: Issue[] = JSON.parse(printed).issues;
  const found = (kind: 'files' | 'exports' | 'dependencies' | 'unlisted') =>
    issues.flatMap((issue) => issue[kind].map(({ name }) => `${issue.file}: ${name}`));
  expect(failed).toBe(true);
  expect(found('files')).toEqual(['src/left-over.ts: src/left-over.ts']);
  expect(found('exports')).toEqual(['src/kiln.ts: forgotten']);
  expect(found('dependencies')).toEqual(['package.json: zod']);
  expect(found('unlisted')).toEqual(['src/main.ts: fastify']);
});

test('what only a test calls is found in the code that ships', async () => {
  const { failed, printed } = await runOnPlants(
    ['knip/bin/knip.js', '--production', '--config', 'knip.production.jsonc', '--reporter', 'json'],
    ['knip.production.jsonc'],
    {
      'package.json': JSON.stringify({ name: 'plants', type: 'module' }),
      'src/main.ts': "import { kiln } from './kiln.js';\nkiln();\n",
      'src/desk/main.tsx': 'export {};\n',
      'src/kiln.ts': 'export const kiln = () => 1;\nexport const tested = () => 2;\n',
      'tests/kiln.test.ts': "import { tested } from '../src/kiln.js';\ntested();\n",
    },
  );
  const issues: Issue[] = JSON.parse(printed).issues;
  expect(failed).toBe(true);
  expect(issues.flatMap((issue) => issue.exports.map(({ name }) => `${issue.file}: ${name}`))).toEqual([
    'src/kiln.ts: tested',
  ]);
});

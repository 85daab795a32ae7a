import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { runOnPlants } from './plant.js';

/** The one list of nouns, which dependency-cruiser reads too. */
const LIST = 'src/studio/nouns.ts';
const NOUNS = [...readFileSync(LIST, 'utf8').matchAll(/\/([\w-]+)\/noun\.js/g)].map(([, name = '']) => name);

/** What dependency-cruiser says of a tree, as `rule: from → to`, and whether it would fail the lint. */
async function cruise(plants: Record<string, string>): Promise<{ failed: boolean; complaints: string[] }> {
  const { failed, printed } = await runOnPlants(
    ['dependency-cruiser/bin/dependency-cruise.mjs', 'src'],
    ['.dependency-cruiser.cjs', 'package.json'],
    {
      'tsconfig.json': '{ "extends": "../../tsconfig.json" }',
      [LIST]: NOUNS.map((name) => `// import('./${name}/noun.js')\n`).join(''),
      ...plants,
    },
  );
  const complaints = [...printed.matchAll(/^ *error (.*)$/gm)].map(([, said = '']) =>
    said.replace(/\S*node_modules\/([^/]+)\S*/, '$1').trim(),
  );
  return { failed, complaints };
}

const imports = (...paths: string[]) => paths.map((path) => `import '${path}';\n`).join('');
const LEAF = 'export const leaf = 1;\n';
const noun = (name: string | undefined) => `src/studio/${name}/service.ts`;

test('a house whose arrows point down is left alone', async () => {
  const nouns = NOUNS.slice(1).map((name, i) => [noun(name), imports(`../${NOUNS[i]}/service.js`)]);
  const sound = {
    'src/main.ts': imports('./commands/serve.js'),
    'src/commands/serve.ts': imports('../server/app.js', '../worker/worker.js', 'node:fs'),
    'src/server/app.ts': imports('../studio/nouns.js', '../studio/reports/service.js', '../http/write.js', 'fastify'),
    'src/worker/worker.ts': imports('../studio/notices/service.js', '../mail/post.js'),
    ...Object.fromEntries(nouns),
    [noun('settings')]: imports('../../http/write.js', '../../documents/receipt.js'),
    'src/http/write.ts': imports('../database/client.js'),
    'src/database/client.ts': imports('../config.js', '../problems.js', 'pg'),
    'src/documents/receipt.ts': imports('../trade/money.js'),
    'src/mail/post.ts': imports('../trade/money.js'),
    'src/trade/money.ts': imports('./number.js', 'temporal-polyfill'),
    'src/trade/number.ts': imports('decimal.js'),
    'src/desk/main.tsx': imports('../trade/money.js', './app.js', 'preact'),
    'src/desk/app.tsx': LEAF,
    'src/problems.ts': LEAF,
    'src/config.ts': LEAF,
  };
  expect(await cruise(sound)).toEqual({ failed: false, complaints: [] });
});

describe('a wrong import is caught', () => {
  const floors = {
    'src/main.ts': imports('./commands/serve.js'),
    'src/commands/serve.ts': imports('../problems.js'),
    'src/commands/tell.ts': imports('../main.js'),
    'src/server/app.ts': imports('../commands/serve.js', '../desk/page.js'),
    'src/worker/worker.ts': "import type { Told } from '../commands/tell.js';\nexport type Heard = Told;\n",
    'src/http/paging.ts': imports('../cellar/barrel.js', './nowhere.js', '../../tests/helper.js'),
    'src/database/client.ts': imports('../studio/ware/contract.js', 'vitest'),
    'src/trade/money.ts': imports('../problems.js', 'fastify', 'node:fs', 'zod'),
    'src/desk/page.tsx': imports('../studio/ware/contract.js', 'node:fs'),
    'src/config.ts': imports('./http/paging.js'),
    'src/http/alone.ts': LEAF,
    'src/mail/hen.ts': imports('./egg.js'),
    'src/mail/egg.ts': imports('./hen.js'),
    'src/studio/ware/contract.ts': imports('../../server/app.js'),
    'src/problems.ts': LEAF,
    'src/cellar/barrel.ts': LEAF,
    'tests/helper.ts': LEAF,
  };
  const nouns = NOUNS.slice(1).map((later, i) => [noun(NOUNS[i]), imports(`../${later}/service.js`)]);
  let found: string[] = [];
  beforeAll(async () => {
    const { failed, complaints } = await cruise({
      ...floors,
      ...Object.fromEntries(nouns),
      [noun(NOUNS.at(-1))]: LEAF,
    });
    expect(failed).toBe(true);
    found = complaints;
  });

  test.each([
    'downwards-from-commands: src/commands/tell.ts → src/main.ts',
    'downwards-from-server: src/server/app.ts → src/commands/serve.ts',
    'downwards-from-server: src/worker/worker.ts → src/commands/tell.ts',
    'downwards-from-studio: src/studio/ware/contract.ts → src/server/app.ts',
    'downwards-from-http: src/database/client.ts → src/studio/ware/contract.ts',
    'downwards-from-http: src/http/paging.ts → src/cellar/barrel.ts',
    'downwards-from-problems: src/config.ts → src/http/paging.ts',
    'trade-imports-nothing: src/trade/money.ts → src/problems.ts',
    'trade-imports-nothing: src/trade/money.ts → fastify',
    'trade-imports-nothing: src/trade/money.ts → zod',
    'trade-imports-nothing: src/trade/money.ts → fs',
    'desk-imports-only-trade: src/desk/page.tsx → src/studio/ware/contract.ts',
    'desk-runs-in-a-browser: src/desk/page.tsx → fs',
    'nobody-imports-the-desk: src/server/app.ts → src/desk/page.tsx',
    'src-imports-only-src: src/http/paging.ts → tests/helper.ts',
    'no-unresolved-import: src/http/paging.ts → ./nowhere.js',
    'no-development-package-at-run-time: src/database/client.ts → vitest',
    'no-orphan: src/http/alone.ts',
  ])('%s', (complaint) => expect(found).toContain(complaint));

  test('a circle', () => expect(found.filter((each) => /^no-circle: src.mail/.test(each))).toHaveLength(1));

  test.each(NOUNS.slice(0, -1))('%s, importing the noun after it', (name) => {
    const next = NOUNS[NOUNS.indexOf(name) + 1];
    expect(found).toContain(`${name}-imports-only-nouns-before-it: ${noun(name)} → ${noun(next)}`);
  });
});

import { describe, expect, test } from 'vitest';
import type { Tree } from '../tidy/rule.js';
import { RULES } from '../tidy/rules.js';

const TREE = new Map([
  ['README.md', '# Wareboard\n\n## How it *works*, day by day\n\n```\n## no heading\n```\n'],
  ['docs/scale.md', ''],
]);
const tree: Tree = { has: (path) => TREE.has(path), text: (path) => TREE.get(path) };

/** What all rules together say of one file. */
const said = (path: string, source: string) => RULES.flatMap((rule) => rule.complaints(path, source, tree));

const lines = (count: number, line = '// kiln') => `${line}\n`.repeat(count);
const fires = (count: number) => `function fire() {\n${lines(count - 2, '  stoke = 1;')}}\n`;

describe('length', () => {
  test('a file over 300 lines is refused', () => {
    expect(said('src/a.ts', lines(300))).toEqual([]);
    expect(said('src/a.ts', lines(301))).toEqual([
      'src/a.ts:1 the file has 301 lines, 300 at most: what could move out?',
    ]);
    expect(said('src/desk/a.css', lines(301, '.a {}'))).toHaveLength(1);
  });

  test('a function over 70 lines is refused, by its name', () => {
    expect(said('src/a.ts', fires(70))).toEqual([]);
    expect(said('src/a.ts', `\n${fires(71)}`)).toEqual([
      'src/a.ts:2 fire has 71 lines, 70 at most: which part has a name of its own?',
    ]);
    expect(said('src/a.ts', `const load = () => {\n${lines(70, 'a = 1;')}};\n`)[0]).toMatch(/^src\/a.ts:1 load has 72/);
    expect(said('src/a.ts', `class Kiln {\n  ${fires(71).replace('function ', '')}}\n`)[0]).toMatch(/:2 fire has 71/);
  });

  test('a list of calls is measured entry by entry', () => {
    const routes = (handler: string) =>
      `const routes = async (app) => {\n${lines(80, `app.get('/x', ${handler});`)}};\n`;
    expect(said('src/a.ts', routes('() => 1'))).toEqual([]);
    expect(said('src/a.ts', routes('() => 1').replace('};', 'if (a) b();\n};'))).toHaveLength(1);
    expect(said('src/a.ts', `const r = (app) => {\n  app.get(${fires(71)});\n};\n`)).toHaveLength(1);
    expect(
      said('tests/a.test.ts', `describe('x', () => {\n${lines(80, 'const a = 1; expect(a).toBe(1);')}});\n`),
    ).toEqual([]);
  });
});

describe('any and console', () => {
  test.each(['let a: any;', 'const a = b as any;', 'type A = Record<string, any>;'])('%s is refused', (source) => {
    expect(said('src/a.ts', source)).toEqual([
      'src/a.ts:1 `any` switches the compiler off: say what it is, or `unknown`',
    ]);
  });

  test.each(['// any of them', "const any = 'any';", 'expect.any(Number).a;'])('%s is none', (source) => {
    expect(said('src/a.ts', source)).toEqual([]);
  });

  test('only commands print', () => {
    const print = "\nconsole.log('sold');\nconst { error } = console;\n";
    const message = 'only src/commands may print: use the log';
    expect(said('src/server/app.ts', print)).toEqual([
      `src/server/app.ts:2 ${message}`,
      `src/server/app.ts:3 ${message}`,
    ]);
    expect(said('src/desk/page.tsx', print)).toHaveLength(2);
    expect(said('tests/support/app.ts', print)).toHaveLength(2);
    expect(said('src/commands/demo.ts', print)).toEqual([]);
    expect(said('src/server/app.ts', 'rooms.console = games.console;')).toEqual([]);
  });
});

describe('money', () => {
  const PRICE = 'src/studio/pricing/service.ts';

  test.each([
    ['multiplied', 'const due = priceMinor * 0.2;'],
    ['multiplied', 'const due = students * course.priceMinor;'],
    ['multiplied', 'due.totalMinor *= rate;'],
    ['multiplied', 'const due = (totalMinor - depositMinor) * part;'],
    ['multiplied', 'const due = -(await refundMinor(place)) * part;'],
    ['multiplied', "const due = row['priceMinor'] * part;"],
    ['multiplied', 'const due = sharesMinor[0] * part;'],
    ['multiplied', 'const due = (course.priceMinor ?? 0) * part;'],
    ['multiplied', 'const due = (full ? priceMinor : 0) * part;'],
    ['multiplied', 'const due = Number(perKwhMinor) * kwh;'],
    ['multiplied', 'const due = Math.max(0, paidMinor) * part;'],
    ['multiplied', 'const due = quote!.priceMinor! * part;'],
    ['divided', 'const each = totalMinor / 3;'],
    ['divided', 'const left = totalMinor % 3;'],
    ['raised', 'const odd = totalMinor ** 2;'],
    ['given a fraction', 'const up = totalMinor + 0.5;'],
    ['given a fraction', 'totalMinor -= 0.5;'],
    ['read by parseFloat', 'const rate = parseFloat(line.rateMinor);'],
    ['read by parseFloat', 'const rate = Number.parseFloat(line.rateMinor);'],
    ['written by toFixed', 'const text = totalMinor.toFixed(2);'],
    ['passed through Math.round', 'const whole = Math.round(totalMinor);'],
    ['passed through Math.floor', 'const whole = Math.floor(shareMinor);'],
    ['divided', 'const minor = 5; const each = minor / 3;'],
    ['divided', 'const price = course.priceMinor; const each = price / 3;'],
    ['divided', 'const { priceMinor: price } = course; const each = price / 3;'],
    ['divided', 'function half(price = course.priceMinor) { return price / 2; }'],
    ['divided', 'const a = course.priceMinor; const b = a; const c = b; const each = () => c / 3;'],
  ])('is not %s: %s', (how, source) => {
    const message = `an amount in minor units is ${how}: let src/trade/money/money.ts do it, where rounding has a name`;
    expect(said(PRICE, source)).toEqual([`${PRICE}:1 ${message}`]);
  });

  test.each([
    'const sum = priceMinor + extraMinor - refundMinor(place);',
    'const due = Math.max(0, paidMinor - feeMinor);',
    'const due = amountMinor(students, rateMinor);',
    'const exact = costMinor.times(turnout.students).div(3);',
    'const due = course.priceMinor * attendees.length;',
    'const due = 3 * course.priceMinor * count;',
    'const holdMinutes = hours * 60;',
    'const price = lot.quantity; const each = price / 3;',
    'const price = course.priceMinor; const f = (price: number) => price / 3;',
    'const a = b; const b = a; const c = a / 2;',
    'const column = places[priceMinor] * 2;',
  ])('may be as it is: %s', (source) => expect(said(PRICE, source)).toEqual([]));

  test('is rounded in one place, and reckoned as they like in tests', () => {
    expect(said('src/trade/money/money.ts', 'const half = totalMinor / 2;')).toEqual([]);
    expect(said('tests/trade/money.ts', 'const half = totalMinor / 2;')).toEqual([]);
  });
});

describe('SQL', () => {
  const SERVICE = 'src/studio/ware/service.ts';

  test.each([
    'const rows = await tx.$queryRaw`SELECT 1`;',
    "const rows = await tx.$executeRawUnsafe('x');",
    "import { Client } from 'pg';",
    "const rows = await pool.query('x');",
    "const sql = 'SELECT code FROM piece';",
    "const sql = 'select code from piece';",
    `const sql = \`UPDATE \${table} SET code = 1\`;`,
    "const sql = 'DELETE FROM piece';",
    "const sql = 'INSERT INTO piece VALUES (1)';",
    "const sql = 'CREATE TABLE piece ()';",
  ])('stays out of services: %s', (source) => {
    expect(said(SERVICE, source)).toEqual([`${SERVICE}:1 SQL belongs into queries.ts, invariants.ts or src/database/`]);
    expect(said('src/studio/ware/queries.ts', source)).toEqual([]);
    expect(said('src/studio/ware/invariants.ts', source)).toEqual([]);
    expect(said('src/database/migrate.ts', source)).toEqual([]);
  });

  test.each([
    "const summary = 'Select a piece from the shelf';",
    "const summary = 'Update a room, or set it aside';",
    "const summary = 'Create a table of rates';",
    'const { limit } = request.query;',
    'const rows = await tx.piece.findMany();',
  ])('is not what a sentence is: %s', (source) => expect(said(SERVICE, source)).toEqual([]));

  test.each(['tx.piece.create({ data });', 'app.db.piece.count();', 'tx.$executeRaw`x`;'])(
    'that nobody waits for is never sent: %s',
    (source) => expect(said('src/studio/ware/queries.ts', source)[0]).toMatch(/:1 this query is never sent: await it$/),
  );

  test.each(['await tx.piece.create({ data });', "db.$on('query', log);", 'move(tx, piece);'])(
    'that is waited for is: %s',
    (source) => expect(said(SERVICE, source)).toEqual([]),
  );
});

describe('words, links and assertions', () => {
  test.each(['TO' + 'DO', 'FIX' + 'ME', 'XX' + 'X', 'not ' + 'implemented'])('%s is refused anywhere', (word) => {
    const message = `"${word}": do it, or say it in an issue`;
    expect(said('src/a.ts', `\n// ${word}: later\n`)).toEqual([`src/a.ts:2 ${message}`]);
    expect(said('prisma/a.sql', `-- ${word}\n`)).toEqual([`prisma/a.sql:1 ${message}`]);
  });

  test.each([
    ['docs/none.md', '[a](none.md)'],
    ['docs/none.png', '![a](none.png "A")'],
    ['README.md', '[a](../README.md#no-heading)'],
    ['none', '<img src="none">'],
    ['none', '\n\n[a]: none\n'],
  ])('a link to %s that leads nowhere is refused', (_target, source) => {
    expect(said('docs/a.md', source)).toEqual([expect.stringMatching(/^docs\/a.md:\d the link to \S+ leads nowhere$/)]);
  });

  test.each(['[a](../README.md)', '[a](scale.md)', '[a](../README.md#how-it-works-day-by-day)', '`[a](none.md)`'])(
    'a link that leads somewhere is not: %s',
    (source) => {
      expect(said('docs/a.md', `${source} [b](https://example.org/none)`)).toEqual([]);
      expect(said('docs/a.md', `\`\`\`\n[a](none.md)\n\`\`\`\n${source}`)).toEqual([]);
    },
  );

  test.each([
    ['nothing is asserted here', "test('sells', () => sell());"],
    ['this expectation compares nothing: call what it should meet', 'expect(1).toBe(1);expect(sold);'],
    ['this expectation compares nothing: call what it should meet', 'expect(1).toBe(1);expect(sold).toBe;'],
    ['this expectation is not waited for: await it', 'expect(1).toBe(1);expect(sell()).rejects.toThrow();'],
  ])('a test file is told: %s', (message, source) => {
    expect(said('tests/a.test.ts', source)).toEqual([`tests/a.test.ts:1 ${message}`]);
    expect(said('tests/support/a.ts', source)).toEqual([]);
  });

  test('a test that waits for a second only is told to be patient', () => {
    const told = 'this gives up after a second: say PATIENCE';
    for (const wait of ['waitFor', 'waitUntil']) {
      const at = (rest: string) => said('tests/support/a.ts', `await vi.${wait}(() => sold()${rest});`);
      expect(at('')).toEqual([`tests/support/a.ts:1 ${told}`]);
      expect(at(', PATIENCE')).toEqual([]);
    }
  });

  test('a test with a time limit of its own is told where that stands', () => {
    const told = ['tests/a.test.ts:1 leave the time limit to vitest.config.ts'];
    const at = (source: string) => said('tests/a.test.ts', `${source}\nexpect(1).toBe(1);`);
    expect(at("test('sells', () => sell(), 60_000);")).toEqual(told);
    expect(at("test.each([1])('sells', () => sell(), 60_000);")).toEqual(told);
    expect(at("test('sells', () => sell());")).toEqual([]);
  });

  test('a test of the desk that opens no browser is told where it belongs', () => {
    const pure = "import { place } from '../../src/desk/price/place.js';\nexpect(place()).toBe(1);";
    const told = 'no browser is opened here: move the file to tests/desk-without-browser/';
    expect(said('tests/desk/price/place.test.ts', pure)).toEqual([`tests/desk/price/place.test.ts:1 ${told}`]);
    expect(said('tests/desk-without-browser/place.test.ts', pure)).toEqual([]);
    for (const helper of ['../browser', './plan-pages'])
      expect(said('tests/desk/price/place.test.ts', `import { at } from '${helper}.js';\n${pure}`)).toEqual([]);
  });

  test.each(['expect(sold).not.toBe(1);', 'await expect(sell()).rejects.toThrow();', 'fc.assert(p);', 'assert(sold);'])(
    'a test file that asserts is left alone: %s',
    (source) => expect(said('tests/a.test.ts', source)).toEqual([]),
  );
});

describe('a table', () => {
  const told = 'use DataTable of src/desk/ui/data-table.tsx';

  test.each(['<table class="rows"><tbody /></table>', '<section><table /></section>'])(
    'written by hand is refused: %s',
    (source) => {
      const path = 'src/desk/pages/money/papers/paper-table.tsx';
      expect(said(path, `const Papers = () => ${source};`)).toEqual([`${path}:1 ${told}`]);
      expect(said('src/desk/ui/second-table.tsx', `\nconst Papers = () => ${source};`)).toEqual([
        `src/desk/ui/second-table.tsx:2 ${told}`,
      ]);
    },
  );

  test('of the one component is none', () => {
    expect(said('src/desk/ui/data-table.tsx', 'const Table = () => <table />;')).toEqual([]);
    expect(said('src/desk/pages/money/a.tsx', '/** not a <table> */ const a = <DataTable />;')).toEqual([]);
  });
});

describe('plain words', () => {
  test.each([
    ["const a = 'Mend the fields and try again.';", '"Mend": write correct, fix'],
    [`const a = \`Its cost was reckoned on \${day}.\`;`, '"reckoned": write work out, calculate'],
    [`const a = \`\${percent} % of places\`;`, '"9 %": write 20%, without a blank'],
    ["const a = 'Wednesday, 9 December';", '"Wednesday, 9": write Wednesday 9 December, without a comma'],
    ["const a = { label: 'Together' };", '"Together": write Total'],
    ["const a = 'The course is not held';", '"course is not held": write runs'],
    ["const a = 'This is no photo.';", '"is no": write is not a'],
    ["const a = 'Answer by e-mail today';", '"e-mail": write email'],
    ["const a = 'It is used up, so that nothing is left';", '", so that": write so'],
    ["const a = 'It costs £20.00 a place.';", '"£20.00": write a sum in a sentence without .00'],
  ])('%s is refused', (source, message) => {
    expect(said('src/studio/a.ts', source)).toContain(`src/studio/a.ts:1 ${message}`);
  });

  test.each([
    "const beside = 'beside';",
    "import { a } from './reckoning.js';",
    "const a = 'There is no course. It is no longer held until Friday.';",
    "const a = 'A place is held for two days';",
    'const a = tx.$queryRaw`SELECT stood FROM b AS stands WHERE c`;',
    '// what stands here is for builders',
  ])('%s is not', (source) => {
    expect(said('src/studio/a.ts', source).filter((complaint) => complaint.includes('write'))).toEqual([]);
    expect(said('tests/a.ts', "const a = 'Mend it and go on';")).toEqual([]);
  });
});

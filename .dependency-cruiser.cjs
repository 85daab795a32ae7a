// The arrows of the house (DEVELOPERS.md). What is allowed is listed, so that a folder nobody has placed yet is refused too.

const { readFileSync } = require('node:fs');
const { join } = require('node:path');

/** In the order of the one list that the program itself goes by. */
const LIST = readFileSync(join(__dirname, 'src/studio/nouns.ts'), 'utf8');
const NOUNS = [...LIST.matchAll(/import\('\.\/([\w-]+)\/noun\.js'\)/g)].map(([, noun]) => noun);

/** From the top down: a floor imports its own rooms and whatever lies below. */
const FLOORS = [
  ['main.ts'],
  ['commands/'],
  ['server/', 'worker/'],
  ['studio/'],
  ['http/', 'documents/', 'mail/', 'database/'],
  ['problems.ts', 'config.ts', 'version.ts', 'trade/'],
];

const anyOf = (paths) => `^src/(${paths.join('|').replaceAll('.', '\\.')})`;

const arrows = FLOORS.map((floor, i) => ({
  name: `downwards-from-${floor[0].replace(/\.ts$|\/$/, '')}`,
  comment:
    'main -> commands -> server, worker -> studio -> http, documents, mail, database -> problems, config, trade.',
  severity: 'error',
  from: { path: anyOf(floor) },
  to: { path: '^src/', pathNot: anyOf(FLOORS.slice(i).flat()) },
}));

const nouns = NOUNS.map((noun, i) => ({
  name: `${noun}-imports-only-nouns-before-it`,
  comment: `The order of the nouns: ${NOUNS.join(' < ')}.`,
  severity: 'error',
  from: { path: `^src/studio/${noun}/` },
  to: { path: '^src/studio/', pathNot: `^src/studio/(${NOUNS.slice(0, i + 1).join('|')})/` },
}));

/** The desk from the top down, as the house above. */
const DESK_FLOORS = [
  ['main.tsx'],
  ['app.tsx'],
  ['pages/'],
  ['actions/', 'basics/'],
  ['ui/', 'charts/'],
  ['forms/'],
  ['api/', 'format/'],
];

const deskFloors = DESK_FLOORS.map((floor, i) => ({
  name: `desk-downwards-from-${floor[0].replace(/\.tsx$|\/$/, '')}`,
  comment: 'main -> app -> pages -> actions, basics -> ui, charts -> forms -> api, format.',
  severity: 'error',
  from: { path: `^src/desk/(${floor.join('|').replaceAll('.', '\\.')})` },
  to: {
    path: '^src/desk/',
    pathNot: `^src/desk/(${DESK_FLOORS.slice(i).flat().join('|').replaceAll('.', '\\.')})|\\.css$`,
  },
}));

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    ...arrows,
    ...nouns,
    {
      name: 'trade-imports-nothing',
      comment: 'The arithmetic of the craft runs in a browser as well: no Node, no database, no clock of its own.',
      severity: 'error',
      from: { path: '^src/trade/' },
      to: { pathNot: ['^src/trade/', '(^|/)node_modules/(decimal\\.js|temporal-polyfill)/'] },
    },
    {
      name: 'desk-imports-only-trade',
      comment:
        'The desk is a client of the API like any other: it shares arithmetic with the server, and types by api/schema.d.ts.',
      severity: 'error',
      from: { path: '^src/desk/' },
      to: { path: '^src/', pathNot: '^src/(desk|trade)/' },
    },
    ...deskFloors,
    {
      name: 'no-page-imports-a-page',
      comment: 'What two nouns need lies below them; the app puts pages together.',
      severity: 'error',
      from: { path: '^src/desk/pages/([^/]+)/' },
      to: { path: '^src/desk/pages/', pathNot: '^src/desk/pages/$1/' },
    },
    {
      name: 'no-page-imports-a-page-beside-it',
      comment: 'What pages of one noun share lies in the folder of that noun.',
      severity: 'error',
      from: { path: '^src/desk/pages/([^/]+)/([^/]+)/' },
      to: { path: '^src/desk/pages/$1/[^/]+/', pathNot: '^src/desk/pages/$1/$2/' },
    },
    {
      name: 'desk-runs-in-a-browser',
      severity: 'error',
      from: { path: '^src/desk/' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'nobody-imports-the-desk',
      severity: 'error',
      from: { path: '^src/', pathNot: '^src/desk/' },
      to: { path: '^src/desk/' },
    },
    {
      name: 'src-imports-only-src',
      comment: 'Tests, benchmarks and scripts are not part of what is installed.',
      severity: 'error',
      from: { path: '^src/' },
      to: { path: '^(tests|bench|scripts)/' },
    },
    {
      name: 'no-development-package-at-run-time',
      comment:
        'It would be missing where only dependencies are installed. The desk is bundled, so its packages may be.',
      severity: 'error',
      from: { path: '^src/', pathNot: '^src/desk/' },
      to: { dependencyTypes: ['npm-dev'], dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'no-unresolved-import',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true },
    },
    {
      name: 'no-circle',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'no-orphan',
      comment: 'A module that nobody imports and that imports nothing is left over.',
      severity: 'error',
      from: { orphan: true, path: '^src/', pathNot: ['\\.d\\.ts$', '^src/main\\.ts$'] },
      to: {},
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^src/database/generated/(?!client\\.ts$)' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'types', 'node', 'default'] },
  },
};

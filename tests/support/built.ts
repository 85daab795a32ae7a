import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const MAIN = join(ROOT, 'dist/main.js');
const DESK = join(ROOT, 'dist/desk');
const OPENAPI = join(ROOT, 'dist/openapi.json');

/**
 * Makes dist/ what these sources say, if it is not: a test of an older build would show nothing. A fresh checkout built it when its
 * packages were installed, and afterwards only what was changed is built again.
 */
export function buildProgram(): void {
  buildAllWhereNothingIs();
  const options = compilerOptions();
  for (const path of sourcesOf('src')) {
    const source = join(ROOT, path);
    const target = join(ROOT, path.replace(/^src/, 'dist').replace(/\.ts$/, '.js'));
    if (path.startsWith('src/desk/') || timeOf(target) > timeOf(source)) continue;
    // as `npm run build:server` compiles it: that checks no types either, so each file can be compiled by itself
    const { outputText } = ts.transpileModule(readFileSync(source, 'utf8'), { ...options, fileName: source });
    write(target, outputText);
  }
}

/** The same for the desk. It is one bundle of its own sources, of the trade's, and of what the API says of itself. */
export function buildDesk(): void {
  buildProgram();
  const sources = ['vite.config.ts', 'package-lock.json', ...sourcesOf('src/desk'), ...sourcesOf('src/trade')];
  const newest = Math.max(...sources.map((path) => timeOf(join(ROOT, path))));
  if (timeOf(join(DESK, 'index.html')) > newest && !isApiChanged()) return;
  const draft = `${DESK}-${process.pid}`; // another run of the tests may be reading the one there is
  npm('run', 'build:desk', '--', '--outDir', draft);
  renameSync(DESK, `${draft}-old`);
  renameSync(draft, DESK);
  rmSync(`${draft}-old`, { recursive: true });
}

/** Whether the API says something else of itself than when the desk was built. */
function isApiChanged(): boolean {
  const newest = Math.max(
    ...sourcesOf('dist').map((path) => (/^dist\/(?!desk\/).*\.js$/.test(path) ? timeOf(join(ROOT, path)) : 0)),
  );
  if (timeOf(OPENAPI) >= newest) return false;
  const said = execFileSync(process.execPath, [MAIN, 'openapi'], { encoding: 'utf8', maxBuffer: 1e8 });
  const isChanged = said !== readFileSync(OPENAPI, 'utf8');
  if (!isChanged) write(OPENAPI, said); // so that it is newer than the program, and nobody asks again
  return isChanged;
}

function buildAllWhereNothingIs(): void {
  const built = [MAIN, OPENAPI, join(DESK, 'index.html'), join(ROOT, 'src/database/generated/client.ts')];
  if (!built.every(existsSync)) npm('run', 'build');
}

function npm(...args: string[]): void {
  execFileSync('npm', args, { cwd: ROOT, stdio: ['ignore', 'ignore', 'inherit'], shell: true });
}

const sourcesOf = (folder: string): string[] =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .map((path) => `${folder}/${path.replaceAll('\\', '/')}`)
    .filter((path) => /\.\w+$/.test(path) && !path.endsWith('.d.ts'));

/** When a file was written; long ago where there is none. */
const timeOf = (path: string): number => statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0;

function compilerOptions(): ts.TranspileOptions {
  const { config } = ts.readConfigFile(join(ROOT, 'tsconfig.json'), ts.sys.readFile);
  const { options } = ts.convertCompilerOptionsFromJson(config.compilerOptions, ROOT);
  return { compilerOptions: { ...options, module: ts.ModuleKind.ESNext } }; // nodenext would look for a package.json, which it isn't shown
}

/** Whole or not at all: a program may be started at this moment. */
function write(target: string, text: string): void {
  mkdirSync(dirname(target), { recursive: true });
  const draft = `${target}.${process.pid}`;
  writeFileSync(draft, text);
  renameSync(draft, target);
}

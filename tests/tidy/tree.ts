import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Tree } from './rule.js';

const FOLDERS = ['src', 'tests', 'bench', 'scripts', 'prisma', 'docs', '.ci', 'seeds-demo'];
const MADE = /^src\/(database\/generated\/|desk\/api\/schema\.d\.ts$)/;
const READ = /\.(ts|tsx|mts|mjs|cjs|css|html|sql|prisma|md|json|yml|csv)$|^(\.ci\/run|Dockerfile)$/;

/** What the project's people wrote: every text file, by path from the root. What the build makes is left out. */
export function writtenFiles(root: string): Map<string, string> {
  const inFolders = FOLDERS.filter((folder) => existsSync(join(root, folder))).flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).map((path) => `${folder}/${path}`),
  );
  const paths = [...readdirSync(root), ...inFolders]
    .map((path) => path.replaceAll('\\', '/'))
    .filter((path) => READ.test(path) && !MADE.test(path) && path !== 'package-lock.json')
    .filter((path) => statSync(join(root, path)).isFile());
  return new Map(paths.sort().map((path) => [path, readFileSync(join(root, path), 'utf8')]));
}

export function treeOf(root: string, files: ReadonlyMap<string, string>): Tree {
  return { has: (path) => existsSync(join(root, path)), text: (path) => files.get(path) };
}

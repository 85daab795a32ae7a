import { execFile } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

const ROOT = process.cwd();

type Said = { failed: boolean; printed: string };

/**
 * Runs a tool of this project, as `npm run lint` would, on a small tree with faults planted in it. The tree lies under
 * the project, whose packages it finds, and is gone afterwards.
 *
 * @param settings the project's own files that the tool goes by
 * @param plants   what stands in the tree, by path
 * @returns what the tool printed, and whether it would have failed the lint
 */
export async function runOnPlants(
  [script, ...args]: [script: string, ...args: string[]],
  settings: readonly string[],
  plants: Readonly<Record<string, string>>,
): Promise<Said> {
  mkdirSync(join(ROOT, 'data'), { recursive: true });
  const folder = mkdtempSync(join(ROOT, 'data', 'plants-'));
  try {
    for (const path of settings) copyFileSync(join(ROOT, path), join(folder, path));
    for (const [path, text] of Object.entries(plants)) {
      mkdirSync(dirname(join(folder, path)), { recursive: true });
      writeFileSync(join(folder, path), text);
    }
    return await run(join(ROOT, 'node_modules', script), args, folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function run(script: string, args: string[], cwd: string): Promise<Said> {
  return new Promise((resolve, reject) => {
    execFile(process.execPath, [script, ...args], { cwd, maxBuffer: 1e8 }, (error, printed, stderr) => {
      if (printed === '') reject(new Error(`${script} printed nothing but: ${stderr}`));
      else resolve({ failed: error !== null, printed });
    });
  });
}

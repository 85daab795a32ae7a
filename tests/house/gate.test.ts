import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

test.each(['biome check', 'depcruise src tests', 'knip', 'tsc -p .', 'tsc -p src/desk', 'tsc -p tests/desk'])(
  'the lint runs %s',
  (check) => {
    const { scripts } = JSON.parse(readFileSync('package.json', 'utf8'));
    expect(scripts.lint.split(' && ').some((each: string) => each.startsWith(check))).toBe(true);
  },
);

test.each(['set -euo pipefail', 'npm ci', 'npm run lint', 'npm run demo -- --once', 'npm test'])(
  'CI has %s',
  (step) => {
    expect(readFileSync('.ci/run', 'utf8')).toContain(step);
  },
);

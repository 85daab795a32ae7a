import { describe, expect, test } from 'vitest';
import { RULES } from './tidy/rules.js';
import { treeOf, writtenFiles } from './tidy/tree.js';

const root = process.cwd();
const files = writtenFiles(root);
const tree = treeOf(root, files);

describe('the house is tidy', () => {
  test('and was looked at', () => {
    expect([...files.keys()]).toEqual(
      expect.arrayContaining(['package.json', 'src/trade/money/money.ts', 'tests/tidy.test.ts']),
    );
  });

  test.each(RULES)('$name', ({ complaints }) => {
    expect([...files].flatMap(([path, source]) => complaints(path, source, tree))).toEqual([]);
  });
});

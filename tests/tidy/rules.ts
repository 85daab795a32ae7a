import { anyRule, assertsRule, awaitedRule, consoleRule, sqlRule } from './code.js';
import { moneyRule } from './money.js';
import { snapshotRule } from './routes.js';
import type { Rule } from './rule.js';
import { fileLengthRule, functionLengthRule } from './size.js';
import { linkRule, unfinishedRule } from './text.js';
import { wordsRule } from './words.js';

/** The rules of the house that no general tool knows. tests/house shows of each that it can fail. */
export const RULES: readonly Rule[] = [
  fileLengthRule,
  functionLengthRule,
  anyRule,
  consoleRule,
  moneyRule,
  sqlRule,
  snapshotRule,
  awaitedRule,
  unfinishedRule,
  linkRule,
  assertsRule,
  wordsRule,
];

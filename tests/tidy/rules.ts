import { ownersWordsRule } from './addresses.js';
import { anyRule, assertsRule, awaitedRule, consoleRule, limitRule, sqlRule, waitRule } from './code.js';
import { fieldRule, tableRule, typedLimitRule } from './desk.js';
import { moneyRule } from './money.js';
import { snapshotRule } from './routes.js';
import type { Rule } from './rule.js';
import { fileLengthRule, functionLengthRule } from './size.js';
import { browserRule, linkRule, unfinishedRule } from './text.js';
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
  ownersWordsRule,
  fieldRule,
  tableRule,
  typedLimitRule,
  awaitedRule,
  waitRule,
  limitRule,
  unfinishedRule,
  linkRule,
  browserRule,
  assertsRule,
  wordsRule,
];

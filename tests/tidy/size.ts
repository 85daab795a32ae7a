import ts from 'typescript';
import { codeRule, isCode, textRule } from './rule.js';
import { bare, chainOf } from './syntax.js';

const FILE_LINES_MAX = 300;
const FUNCTION_LINES_MAX = 70;

/** A file is a room that one person can know. */
export const fileLengthRule = textRule(
  `a file has at most ${FILE_LINES_MAX} lines`,
  (path) => isCode(path) || path.endsWith('.css'),
  function* (source) {
    const lines = source.replace(/\n$/, '').split('\n').length;
    if (lines > FILE_LINES_MAX)
      yield [0, `the file has ${lines} lines, ${FILE_LINES_MAX} at most: what could move out?`];
  },
);

/**
 * A function fits a screen. Two things are no function to a reader but a table, whose entries are measured each by
 * itself: what stands under a `describe`, and a body that only lists calls, such as the routes of a noun.
 */
export const functionLengthRule = codeRule(
  `a function has at most ${FUNCTION_LINES_MAX} lines`,
  () => true,
  (node, { file }) => {
    if (!ts.isFunctionLike(node) || !('body' in node) || !node.body || isTable(node, node.body as ts.Node))
      return undefined;
    const line = (at: number) => file.getLineAndCharacterOfPosition(at).line;
    const lines = line(node.end) - line(node.getStart()) + 1;
    if (lines <= FUNCTION_LINES_MAX) return undefined;
    return `${nameOf(node)} has ${lines} lines, ${FUNCTION_LINES_MAX} at most: which part has a name of its own?`;
  },
);

function isTable({ parent }: ts.Node, body: ts.Node): boolean {
  if (ts.isCallExpression(parent) && chainOf(parent)[0] === 'describe') return true;
  const isCall = (each: ts.Statement) => ts.isExpressionStatement(each) && ts.isCallExpression(bare(each.expression));
  return ts.isBlock(body) && body.statements.every(isCall);
}

function nameOf({ name, parent }: ts.SignatureDeclaration): string {
  if (name) return name.getText();
  return ts.isVariableDeclaration(parent) || ts.isPropertyAssignment(parent) ? parent.name.getText() : 'this function';
}

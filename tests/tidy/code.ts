import ts from 'typescript';
import { codeRule, everywhere, isSource, isTest } from './rule.js';
import { bare, calledName, chainOf, nodes } from './syntax.js';

/** Biome refuses `any` as well; this one can't be switched off by a comment. */
export const anyRule = codeRule('nothing is any', everywhere, (node) =>
  node.kind === ts.SyntaxKind.AnyKeyword ? '`any` switches the compiler off: say what it is, or `unknown`' : undefined,
);

/** The program speaks through its log, which knows what is personal; only commands talk to a terminal. */
export const consoleRule = codeRule(
  'only commands print',
  (path) => path.startsWith('tests/') || (isSource(path) && !path.startsWith('src/commands/')),
  (node) => {
    if (!ts.isIdentifier(node) || node.text !== 'console') return undefined;
    const isName = ts.isPropertyAccessExpression(node.parent) && node.parent.name === node;
    return isName ? undefined : 'only src/commands may print: use the log';
  },
);

const RAW = /^\$(queryRaw|executeRaw)(Unsafe|Typed)?$/;
const STATEMENT =
  /^\s*(select\s[\s\S]*\bfrom\s|insert\s+into\s|update\s+\S+\s+set\s|delete\s+from\s|(create|alter|drop|truncate)\s+(table|index|type|schema|database|role|function)\b)/;

/** SQL stands where somebody looks for it, with its danger stated. */
export const sqlRule = codeRule(
  'SQL stands in queries.ts, invariants and src/database/',
  (path) => isSource(path) && !path.startsWith('src/database/') && !/\/(queries|(\w+-)?invariants?)\.ts$/.test(path),
  (node) => {
    const isPg = ts.isImportDeclaration(node) && /^'pg['/]/.test(node.moduleSpecifier.getText());
    const isRaw = ts.isPropertyAccessExpression(node) && RAW.test(node.name.text);
    const isQuery =
      ts.isCallExpression(node) && ts.isPropertyAccessExpression(node.expression) && calledName(node) === 'query';
    const text = ts.isStringLiteralLike(node) || ts.isTemplateExpression(node) ? node.getText().slice(1) : '';
    return isPg || isRaw || isQuery || isSql(text)
      ? 'SQL belongs into queries.ts, invariants.ts or src/database/'
      : undefined;
  },
);

/** SQL is written in one case; "Select a course from the list" is a sentence. */
const isSql = (text: string) =>
  STATEMENT.test(text) || (STATEMENT.test(text.toLowerCase()) && /^\s*[A-Z]{2,}/.test(text));

/** Prisma sends a query when it is awaited, and not before: without that nothing is written, and nobody hears of it. */
export const awaitedRule = codeRule('every query is awaited', everywhere, (node) => {
  if (!ts.isExpressionStatement(node) || ts.isAwaitExpression(node.expression)) return undefined;
  const [owner, next] =
    chainOf(node.expression)
      .join('.')
      .match(/\b(?:tx|db)\.(\$?\w+)/) ?? [];
  return owner && next !== '$on' ? 'this query is never sent: await it' : undefined;
});

/** Left to itself, vitest waits for a second: too little on a machine that others load. */
export const waitRule = codeRule('what is waited for may take long', everywhere, (node) => {
  if (!ts.isCallExpression(node) || node.arguments.length > 1) return undefined;
  const [owner = '', name = ''] = chainOf(node);
  return owner === 'vi' && /^wait(For|Until)$/.test(name) ? 'this gives up after a second: say PATIENCE' : undefined;
});

/** The tests of the image are run apart, and have limits of their own. */
const isInSuite = (path: string) => isTest(path) && !path.startsWith('tests/containers/');

/** One limit for all tests, for what hangs, stands in vitest.config.ts; a shorter one fails on a machine that others load. */
export const limitRule = codeRule('no test has a time limit of its own', isInSuite, (node) => {
  if (!ts.isCallExpression(node) || !/^(test|it)$/.test(chainOf(node)[0] ?? '')) return undefined;
  const last = node.arguments.at(-1);
  return last && ts.isNumericLiteral(last) ? 'leave the time limit to vitest.config.ts' : undefined;
});

/** A test that compares nothing passes for ever. */
export const assertsRule = codeRule('every test file asserts something', isTest, (node) => {
  if (ts.isSourceFile(node)) return [...nodes(node)].some(isAssertion) ? undefined : 'nothing is asserted here';
  if (!ts.isExpressionStatement(node)) return undefined;
  const [root, ...names] = chainOf(node.expression);
  if (root !== 'expect') return undefined;
  const compares = ts.isCallExpression(bare(node.expression)) && names.length > 0;
  if (!compares) return 'this expectation compares nothing: call what it should meet';
  const isPromise = names.includes('resolves') || names.includes('rejects');
  return isPromise && !ts.isAwaitExpression(node.expression)
    ? 'this expectation is not waited for: await it'
    : undefined;
});

function isAssertion(node: ts.Node): boolean {
  return (
    ts.isCallExpression(node) && (/^(expect|assert)/.test(chainOf(node)[0] ?? '') || calledName(node) === 'assert')
  );
}

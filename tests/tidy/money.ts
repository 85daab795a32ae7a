import ts from 'typescript';
import { codeRule, isSource } from './rule.js';
import { bare, calledName, type Syntax } from './syntax.js';

const MONEY = /(^m|M)inor$/;
const COUNT = /^(length|size)$|(^c|C)ount$/;
const WHOLE = new Set(['abs', 'max', 'min', 'sign']);
const INEXACT = new Map<ts.SyntaxKind, string>([
  [ts.SyntaxKind.AsteriskToken, 'multiplied'],
  [ts.SyntaxKind.AsteriskEqualsToken, 'multiplied'],
  [ts.SyntaxKind.SlashToken, 'divided'],
  [ts.SyntaxKind.SlashEqualsToken, 'divided'],
  [ts.SyntaxKind.PercentToken, 'divided'],
  [ts.SyntaxKind.PercentEqualsToken, 'divided'],
  [ts.SyntaxKind.AsteriskAsteriskToken, 'raised'],
  [ts.SyntaxKind.AsteriskAsteriskEqualsToken, 'raised'],
]);
const SUMS = new Set([
  ts.SyntaxKind.PlusToken,
  ts.SyntaxKind.MinusToken,
  ts.SyntaxKind.PlusEqualsToken,
  ts.SyntaxKind.MinusEqualsToken,
]);
const CHOICES = new Set([ts.SyntaxKind.QuestionQuestionToken, ts.SyntaxKind.BarBarToken]);

/**
 * Floats lose pennies: 1.005 * 100 is 100.49999999999999. Amounts (`...Minor`) are therefore added and subtracted as whole
 * numbers only; whatever can leave a fraction goes through Decimal and the named rounding in src/trade/money/money.ts.
 * Whole times whole is exact, so that a number of things (`count`, `.length`, `.size`, a whole literal) may multiply it.
 */
export const moneyRule = codeRule(
  'money is never a float',
  (path) => isSource(path) && path !== 'src/trade/money/money.ts',
  (node, syntax) => {
    const how = ts.isBinaryExpression(node)
      ? inexactSum(node, syntax)
      : ts.isCallExpression(node)
        ? inexactCall(node, syntax)
        : undefined;
    return how && `an amount in minor units is ${how}: let src/trade/money/money.ts do it, where rounding has a name`;
  },
);

function inexactSum({ left, operatorToken, right }: ts.BinaryExpression, syntax: Syntax): string | undefined {
  if (!isMoney(left, syntax) && !isMoney(right, syntax)) return undefined;
  const operator = operatorToken.kind;
  const how = INEXACT.get(operator);
  if (how) return how === 'multiplied' && (isCount(left) || isCount(right)) ? undefined : how;
  return SUMS.has(operator) && (isFraction(left) || isFraction(right)) ? 'given a fraction' : undefined;
}

function inexactCall(call: ts.CallExpression, syntax: Syntax): string | undefined {
  const { expression } = call;
  const name = calledName(call) ?? '';
  if (/^to(Fixed|Precision|Exponential)$/.test(name) && ts.isPropertyAccessExpression(expression))
    return isMoney(expression.expression, syntax) ? `written by ${name}` : undefined;
  if (!call.arguments.some((argument) => isMoney(argument, syntax))) return undefined;
  if (name === 'parseFloat') return 'read by parseFloat';
  return isMath(expression) && !WHOLE.has(name) ? `passed through Math.${name}` : undefined;
}

/** Whether an expression is an amount: by its name, or by what a local name was given. */
function isMoney(expression: ts.Expression, syntax: Syntax): boolean {
  const node = bare(expression);
  const of = (each: ts.Expression) => isMoney(each, syntax);
  if (ts.isIdentifier(node)) return MONEY.test(node.text) || isAlias(node, syntax);
  if (ts.isPropertyAccessExpression(node)) return MONEY.test(node.name.text);
  if (ts.isElementAccessExpression(node)) return isMoneyText(node.argumentExpression) || of(node.expression);
  if (ts.isPrefixUnaryExpression(node)) return of(node.operand);
  if (ts.isConditionalExpression(node)) return of(node.whenTrue) || of(node.whenFalse);
  if (ts.isBinaryExpression(node)) {
    const carries = SUMS.has(node.operatorToken.kind) || CHOICES.has(node.operatorToken.kind);
    return carries && (of(node.left) || of(node.right));
  }
  if (!ts.isCallExpression(node)) return false;
  const name = calledName(node) ?? '';
  const passesOn = name === 'Number' || (isMath(node.expression) && WHOLE.has(name));
  return MONEY.test(name) || (passesOn && node.arguments.some(of));
}

/** `const price = quote.priceMinor`, `const { priceMinor: price } = quote`: the amount keeps its unit under any name. */
function isAlias(name: ts.Identifier, syntax: Syntax): boolean {
  const declaration = syntax.checker.getSymbolAtLocation(name)?.valueDeclaration;
  if (!declaration || declaration.end > name.pos) return false; // only backwards, or two names could chase each other
  if (ts.isBindingElement(declaration) && isMoneyKey(declaration.propertyName)) return true;
  const holds =
    ts.isVariableDeclaration(declaration) || ts.isParameter(declaration) || ts.isBindingElement(declaration);
  return holds && declaration.initializer !== undefined && isMoney(declaration.initializer, syntax);
}

const isMoneyText = (key: ts.Node) => ts.isStringLiteralLike(key) && MONEY.test(key.text);
const isMoneyKey = (key: ts.Node | undefined) =>
  key !== undefined && ((ts.isIdentifier(key) && MONEY.test(key.text)) || isMoneyText(key));

const isMath = (callee: ts.Expression) =>
  ts.isPropertyAccessExpression(callee) && callee.expression.getText() === 'Math';

function isCount(expression: ts.Expression): boolean {
  const node = bare(expression);
  if (ts.isNumericLiteral(node)) return !isFraction(node);
  if (ts.isPropertyAccessExpression(node)) return COUNT.test(node.name.text);
  return ts.isIdentifier(node) && COUNT.test(node.text);
}

function isFraction(expression: ts.Expression): boolean {
  const node = bare(expression);
  return ts.isNumericLiteral(node) && !Number.isInteger(Number(node.text));
}

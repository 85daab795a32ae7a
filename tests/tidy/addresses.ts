import ts from 'typescript';
import { codeRule, isSource } from './rule.js';
import { calledName } from './syntax.js';

const ADDRESS = /\/api\/|\b(GET|HEAD|POST|PUT|PATCH|DELETE) \//;
/** A camelCase name; kWh is a unit. */
const FIELD = /(?<![\w"'/.<-])(?!kWh\b)[a-z]+(?:[A-Z][a-z]+)+\b|`\w+`/;

/** Where a program is spoken to and not a person: the OpenAPI document describes requests to those who write them. */
const FOR_PROGRAMS = new Set(['description', 'summary']);

/**
 * An owner has pages and buttons, not addresses and fields. Where a script needs an address, it stands in a field of its own beside the
 * sentence: a text that is nothing but an address is no sentence.
 */
export const ownersWordsRule = codeRule(
  'no address or field of the API stands in a sentence for the owner',
  (path) =>
    isSource(path) &&
    !/^src\/(desk|commands|database)\//.test(path) &&
    !/\/(queries|(\w+-)?invariants?)\.ts$/.test(path),
  (node) => {
    const text = sentenceOf(node);
    if (text === undefined || isForPrograms(node)) return undefined;
    const [found] = text.match(ADDRESS) ?? text.match(FIELD) ?? [];
    return (
      found && `"${found.trim()}" stands in a sentence that reaches people: name the page, the button or the thing`
    );
  },
);

/** The words of a text that has a blank in it; of a template its fixed parts. */
function sentenceOf(node: ts.Node): string | undefined {
  const text = ts.isTemplateExpression(node)
    ? [node.head, ...node.templateSpans.map(({ literal }) => literal)].map((part) => part.text).join('\u0000')
    : ts.isStringLiteralLike(node)
      ? node.text
      : undefined;
  return text?.trim().includes(' ') ? text : undefined;
}

function isForPrograms(node: ts.Node): boolean {
  for (let at: ts.Node = node; at.parent; at = at.parent) {
    const { parent } = at;
    if (ts.isPropertyAssignment(parent) && FOR_PROGRAMS.has(parent.name.getText())) return true;
    if (ts.isImportDeclaration(parent) || ts.isTypeNode(parent)) return true;
    if (ts.isCallExpression(parent) && ['pdf', 'header'].includes(calledName(parent) ?? '')) return true;
    if (ts.isStatement(parent) && !ts.isExpressionStatement(parent) && !ts.isReturnStatement(parent)) return false;
  }
  return false;
}

import ts from 'typescript';
import { codeRule } from './rule.js';

const isAboveForms = (path: string) => path.startsWith('src/desk/') && !path.startsWith('src/desk/forms/');
const isBesideTable = (path: string) => path.startsWith('src/desk/') && path !== 'src/desk/ui/data-table.tsx';

const isElement = (node: ts.Node, name: string): boolean =>
  (ts.isJsxOpeningElement(node) || ts.isJsxSelfClosingElement(node)) && node.tagName.getText() === name;

/** A label written by hand forgets its hint, its fault or its limit; the fields of src/desk/forms do not. */
export const fieldRule = codeRule('every labelled control is a field of src/desk/forms', isAboveForms, (node) =>
  isElement(node, 'label') ? 'use Field, CheckboxField, ChoiceField, FileField, PictureInput or Slider' : undefined,
);

/** A table written by hand has no cards on a phone, or cards of its own; one component has them for all. */
export const tableRule = codeRule('every table of the desk is a DataTable', isBesideTable, (node) =>
  isElement(node, 'table') ? 'use DataTable of src/desk/ui/data-table.tsx' : undefined,
);

const LIMITS = new Set(['max', 'min', 'maxLength']);

/** What the API allows is said once, by the API; a page that says it again is wrong the day it changes. */
export const typedLimitRule = codeRule('no page types a limit of the API', isAboveForms, (node) => {
  if (!ts.isJsxAttribute(node) || !LIMITS.has(node.name.getText())) return undefined;
  const value = node.initializer && ts.isJsxExpression(node.initializer) ? node.initializer.expression : undefined;
  return value && ts.isNumericLiteral(value) ? 'take the limit from limits.json: limitOf, or form.field' : undefined;
});

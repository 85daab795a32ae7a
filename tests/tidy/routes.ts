import ts from 'typescript';
import { codeRule } from './rule.js';
import { calledName } from './syntax.js';

const WRITING = new Set(['post', 'put', 'patch', 'delete']);

/**
 * Two reads of one answer must not fall before and after somebody's change, so every GET goes through `read`. Only what writes may
 * take the database itself: signing in hashes a password before it asks for a transaction.
 */
export const snapshotRule = codeRule(
  'a GET answers from one snapshot',
  (path) => /^src\/studio\/.*routes\.ts$/.test(path),
  (node) => {
    const taken = ts.isPropertyAccessExpression(node) && node.name.text === 'db';
    const unpacked = ts.isBindingElement(node) && (node.propertyName ?? node.name).getText() === 'db';
    if (!(taken || unpacked) || isInWritingRoute(node)) return undefined;
    return 'this reads without a snapshot: go through read() of src/http/read.ts';
  },
);

function isInWritingRoute(node: ts.Node): boolean {
  for (let at = node.parent; at; at = at.parent)
    if (ts.isCallExpression(at) && WRITING.has(calledName(at) ?? '')) return true;
  return false;
}

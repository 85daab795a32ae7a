import type ts from 'typescript';
import { nodes, parse, type Syntax } from './syntax.js';

/** What stands in the project, by path from its root with forward slashes. */
export interface Tree {
  has(path: string): boolean;
  text(path: string): string | undefined;
}

/** One rule of the house: what it says of a file, each complaint as `path:line what is wrong`. */
export interface Rule {
  name: string;
  complaints(path: string, source: string, tree: Tree): string[];
}

type Fault = [offset: number, message: string];

/** A rule that reads text. */
export function textRule(
  name: string,
  applies: (path: string) => boolean,
  find: (source: string, path: string, tree: Tree) => Iterable<Fault>,
): Rule {
  return {
    name,
    complaints(path, source, tree) {
      if (!applies(path)) return [];
      const said = [...find(source, path, tree)].map(
        ([offset, message]) => `${path}:${source.slice(0, offset).split('\n').length} ${message}`,
      );
      return [...new Set(said)];
    },
  };
}

/** A rule that reads code, one node after the other, as the compiler understands it. */
export function codeRule(
  name: string,
  applies: (path: string) => boolean,
  judge: (node: ts.Node, syntax: Syntax) => string | undefined,
): Rule {
  const find = function* (source: string, path: string): Iterable<Fault> {
    const syntax = parse(path, source);
    for (const node of nodes(syntax.file)) {
      const message = judge(node, syntax);
      if (message) yield [node.getStart(), message];
    }
  };
  return textRule(name, (path) => isCode(path) && applies(path), find);
}

export const isCode = (path: string) => /\.(ts|tsx|mts|mjs|cjs)$/.test(path);
export const isTest = (path: string) => /^tests\/.*\.test\.tsx?$/.test(path);
export const isSource = (path: string) => path.startsWith('src/');
export const everywhere = () => true;

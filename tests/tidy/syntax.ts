import ts from 'typescript';

/** One file as the compiler reads it, alone: names resolve within it, and nothing else is loaded. */
export interface Syntax {
  file: ts.SourceFile;
  readonly checker: ts.TypeChecker;
}

const parsed = new Map<string, Syntax>();

/** Parses a file, once however many rules ask. */
export function parse(path: string, source: string): Syntax {
  const known = parsed.get(path);
  if (known?.file.text === source) return known;
  const file = ts.createSourceFile(path, source, ts.ScriptTarget.ES2023, true);
  let checker: ts.TypeChecker | undefined;
  const syntax = {
    file,
    get checker() {
      checker ??= checkerOf(file);
      return checker;
    },
  };
  parsed.set(path, syntax);
  return syntax;
}

function checkerOf(file: ts.SourceFile): ts.TypeChecker {
  const options = { noLib: true, noResolve: true, allowJs: true, types: [] };
  const program = ts.createProgram([file.fileName], options, {
    getSourceFile: (name) => (name === file.fileName ? file : undefined),
    getDefaultLibFileName: () => 'lib.d.ts',
    writeFile: () => undefined,
    getCurrentDirectory: () => '',
    getCanonicalFileName: (name) => name,
    useCaseSensitiveFileNames: () => true,
    getNewLine: () => '\n',
    fileExists: (name) => name === file.fileName,
    readFile: () => undefined,
  });
  return program.getTypeChecker();
}

/** Every node of a file, in the order in which it is read. */
export function* nodes(root: ts.Node): Generator<ts.Node> {
  const waiting = [root];
  for (let node = waiting.pop(); node; node = waiting.pop()) {
    yield node;
    const children: ts.Node[] = [];
    ts.forEachChild(node, (child) => void children.push(child));
    waiting.push(...children.reverse());
  }
}

/** Without the brackets, assertions and `await` around it: what an expression is about. */
export function bare(node: ts.Expression): ts.Expression {
  const isWrapped =
    ts.isAwaitExpression(node) ||
    ts.isParenthesizedExpression(node) ||
    ts.isNonNullExpression(node) ||
    ts.isAsExpression(node) ||
    ts.isSatisfiesExpression(node);
  return isWrapped ? bare(node.expression) : node;
}

/** The names along a chain: app, db, course, count of `app.db.course.count({})`; empty where it begins otherwise. */
export function chainOf(node: ts.Expression): string[] {
  const inner = bare(node);
  if (ts.isIdentifier(inner)) return [inner.text];
  if (ts.isCallExpression(inner) || ts.isElementAccessExpression(inner)) return chainOf(inner.expression);
  if (ts.isTaggedTemplateExpression(inner)) return chainOf(inner.tag);
  if (!ts.isPropertyAccessExpression(inner)) return [];
  const before = chainOf(inner.expression);
  return before.length > 0 ? [...before, inner.name.text] : [];
}

/** The last name of a callee: `query` of `pool.query(...)`, `parseFloat` of `parseFloat(...)`. */
export function calledName({ expression }: ts.CallExpression): string | undefined {
  if (ts.isPropertyAccessExpression(expression)) return expression.name.text;
  return ts.isIdentifier(expression) ? expression.text : undefined;
}

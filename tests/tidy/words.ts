import ts from 'typescript';
import { codeRule } from './rule.js';

/** Words that a reader stumbles over, and what to write instead. They were all there once. */
const UNWANTED: readonly (readonly [RegExp, string])[] = [
  [/\breckon\w*/i, 'work out, calculate'],
  [/\bmend(s|ed|ing)?\b/i, 'correct, fix'],
  [/\bshall\b/i, 'should'],
  [/\b(stands?|stood|lies?)\b/i, 'is, is shown'],
  [/\b(bears?|bore|borne)\b/i, 'has, pays, carries'],
  [/\bbeside\b/i, 'with, next to, outside, as well'],
  [/, so that\b/i, 'so'],
  [/\bwhoever\b/i, 'anyone who'],
  [/(?<!\bthere )\b(is|was|are|were) no (?!longer\b|more than\b)/i, 'is not a'],
  [/^together\b/i, 'Total'],
  [/^(leave it|leave out|keep)$/i, 'Cancel, Remove, Save'],
  [/\bSuch as\b/, 'For example,'],
  [/\bheads?\b/i, 'people'],
  [
    /\b(courses?|sessions?|plans?|evenings?|it|they|one) (is|are|was|were|were ever) (not )?held\b|\bheld (from|with)\b/i,
    'runs',
  ],
  [/\b(must|can|cannot|can’t|can't|not|lots?|vouchers?|books?) holds?\b/i, 'has, has left, contains'],
  [/\bhold it from\b/i, 'run it from'],
  [/\bcall(s|ed)? (it )?off\b/i, 'cancel'],
  [/\banew\b/i, 'again'],
  [/\bone (chance )?in (two|ten)\b|\bchances? in ten\b|\bone time in ten\b/i, '1 chance in 10'],
  [/\bhome makers?\b/i, 'makers who work at home'],
  [/\be-mails?\b/i, 'email'],
  [/\bunrecognized\b|\blicensed electrician/i, 'British English'],
  [/[\d}] %/, '20%, without a blank'],
  [/\b(Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day, \d/, 'Wednesday 9 December, without a comma'],
  [/-[£€$]\d/, 'a true minus'],
  [/[£€]\d+\.00\b/, 'a sum in a sentence without .00'],
];

/** Where such a word is right: the file, a piece of the sentence, and why. */
const EXCEPTIONS: readonly (readonly [path: string, part: string, reason: string])[] = [
  ['src/studio/accounts/invariants.ts', 'WITH held AS', 'a query'],
  ['src/server/etags.ts', 'HEAD', 'a method of HTTP'],
  ['src/server/rights.ts', 'HEAD', 'a method of HTTP'],
  ['src/studio/kilns/contract.ts', 'Together they cover', 'no total: the bands of a day'],
];

/** What people read is in plain words: sentences, and labels, which begin with a capital; 'beside' alone is a key. */
export const wordsRule = codeRule(
  'what people read is in plain words',
  (path) => path.startsWith('src/') && !path.includes('/generated/'),
  (node, { file }) => {
    if (ts.isSourceFile(node)) return unneeded(file);
    const said = saidBy(node);
    if (said === undefined || !isForPeople(said)) return undefined;
    for (const [pattern, instead] of UNWANTED) {
      const word = pattern.exec(said)?.[0];
      if (word !== undefined && !EXCEPTIONS.some(([path, part]) => path === file.fileName && said.includes(part)))
        return `"${word.trim()}": write ${instead}`;
    }
    return undefined;
  },
);

function unneeded({ fileName, text }: ts.SourceFile): string | undefined {
  const old = EXCEPTIONS.find(([path, part]) => path === fileName && !text.includes(part));
  return old && `"${old[1]}" is gone: so should its exception be`;
}

const isForPeople = (text: string): boolean => /\p{L}\s+\p{L}|[\d}] %/u.test(text) || /^\p{Lu}/u.test(text);

/** What a node says, nothing of a query; a figure stands for each value in a template. */
function saidBy(node: ts.Node): string | undefined {
  if (ts.isJsxText(node)) return node.text.replace(/\s+/g, ' ').trim();
  if (ts.isTemplateExpression(node) && !ts.isTaggedTemplateExpression(node.parent))
    return [node.head, ...node.templateSpans.map(({ literal }) => literal)].map(({ text }) => text).join('9');
  if (!ts.isStringLiteralLike(node) || ts.isTaggedTemplateExpression(node.parent)) return undefined;
  return ts.isImportDeclaration(node.parent) || ts.isExportDeclaration(node.parent) ? undefined : node.text;
}

import { posix } from 'node:path';
import { everywhere, isTest, type Tree, textRule } from './rule.js';

// written so that this file does not complain of itself
const UNFINISHED =
  /\b(TO[D]O|FIX[M]E|XX[X]|HA[C]K|WI[P])\b|\b(not (yet )?implement[e]d|lorem ips[u]m|coming so[o]n)\b/g;

/** What is not done is said in an issue, where somebody finds it, or is done. */
export const unfinishedRule = textRule('nothing is left for later', everywhere, function* (source) {
  for (const { index, 0: word } of source.matchAll(UNFINISHED))
    yield [index, `"${word}": do it, or say it in an issue`];
});

const WITHOUT_BROWSER = 'tests/desk-without-browser/';
const OPENS_BROWSER = /from '[^']*(browser|pages)\.js'/;

/** The browser is for what needs one: its project waits for Chromium, a database and the built desk. */
export const browserRule = textRule(
  'a test of the desk without a browser is kept apart',
  (path) => isTest(path) && path.startsWith('tests/desk/'),
  function* (source) {
    if (!OPENS_BROWSER.test(source)) yield [0, `no browser is opened here: move the file to ${WITHOUT_BROWSER}`];
  },
);

const CODE = /^(```|~~~)[\s\S]*?^\1|`[^`\n]*`/gm;
const LINK = /\]\(\s*<?([^)\s>]+)>?[^)]*\)|^\[[^\]]+\]:\s*(\S+)|\b(?:src|href)="([^"]+)"/gm;

/** A link within the project leads to something that is there, and its #fragment to a heading. */
export const linkRule = textRule(
  'links lead somewhere',
  (path) => path.endsWith('.md'),
  function* (source, path, tree) {
    const prose = source.replace(CODE, (code) => code.replace(/[^\n]/g, ' '));
    for (const match of prose.matchAll(LINK)) {
      const target = match[1] ?? match[2] ?? match[3] ?? '';
      if (!/^[a-z][a-z+.-]*:/.test(target) && !leadsSomewhere(target, path, tree))
        yield [match.index, `the link to ${target} leads nowhere`];
    }
  },
);

function leadsSomewhere(target: string, from: string, tree: Tree): boolean {
  const [file = '', fragment] = target.split('#');
  const path = file === '' ? from : posix.join(posix.dirname(from), decodeURI(file));
  if (!tree.has(path)) return false;
  return fragment === undefined || headings(tree.text(path) ?? '').has(fragment);
}

/** The anchors that a forge makes of a document's headings. */
function headings(markdown: string): Set<string> {
  const titles = [
    ...markdown
      .replace(CODE, (code) => (code.startsWith('`') && !code.startsWith('```') ? code : ''))
      .matchAll(/^#{1,6}\s+(.+?)\s*#*$/gm),
  ];
  return new Set(
    titles.map(([, title = '']) =>
      title
        .toLowerCase()
        .replace(/[^\p{L}\p{N}\s_-]/gu, '')
        .replaceAll(/\s/g, '-'),
    ),
  );
}

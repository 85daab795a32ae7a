import type { Paper } from './paper.js';
import type { StudioHead } from './parts.js';
import { COBALT, STYLES, type Style } from './style.js';

const LETTERHEAD_HIGHEST = 130;
const BETWEEN_COLUMNS = 20;
const BESIDE_LOGO = 14;

/**
 * The letterhead of the first page: the logo, then name and address on the left, how to reach the studio and its tax number on the
 * right.
 */
export function letterhead(paper: Paper, studio: StudioHead): void {
  const reach = [studio.phone, studio.email, studio.vatNumber && `VAT number ${studio.vatNumber}`];
  const said = { name: studio.name, address: studio.addressLines.join('\n'), reach: reach.filter(Boolean).join('\n') };
  const below = paper.logo === null ? 0 : paper.y + paper.logo.height;
  paper.putLogo();
  const spots = paper.logo === null ? null : besideLogo(paper, said, paper.left + paper.logo.width + BESIDE_LOGO);
  if (paper.logo !== null && spots === null) paper.y = below + 8; // names too long to stand beside it
  sayWho(paper, said, spots ?? acrossPage(paper, said));
  paper.y = Math.max(below, paper.y);
  if (studio.legal !== undefined) {
    paper.y += 3;
    paper.say('P', studio.legal, STYLES.small);
  }
  paper.y += 18;
}

type Said = { name: string; address: string; reach: string };
/** Where the two parts of a letterhead go; without a place of its own the second comes below the first. */
type Spots = { who: { x: number; width: number }; reach: { x: number; align: 'right' } | null };

function whoHeight(paper: Paper, { name, address }: Said, width: number): number {
  return paper.height(name, STYLES.strong, width) + paper.height(address, STYLES.small, width);
}

/** Side by side in two halves; very long names take the whole width. */
function acrossPage(paper: Paper, said: Said): Spots {
  const half = (paper.width - BETWEEN_COLUMNS) / 2;
  const x = paper.left;
  if (whoHeight(paper, said, half) > LETTERHEAD_HIGHEST) return { who: { x, width: paper.width }, reach: null };
  return { who: { x, width: half }, reach: { x: paper.right - half, align: 'right' } };
}

/** Side by side where no line has to be broken for it, else below each other; null where that would tower over the logo. */
function besideLogo(paper: Paper, said: Said, x: number): Spots | null {
  const widest = (text: string, style: Style) =>
    Math.max(...text.split('\n').map((line) => Math.ceil(paper.textWidth(line, style)) + 1));
  const room = paper.right - x;
  const reachWidth = widest(said.reach, STYLES.small);
  const who = Math.max(widest(said.name, STYLES.strong), widest(said.address, STYLES.small));
  const width = room - BETWEEN_COLUMNS - reachWidth;
  if (who <= width) return { who: { x, width }, reach: { x: paper.right - reachWidth, align: 'right' } };
  const height = whoHeight(paper, said, room) + paper.height(said.reach, STYLES.small, room);
  return height <= LETTERHEAD_HIGHEST ? { who: { x, width: room }, reach: null } : null;
}

function sayWho(paper: Paper, { name, address, reach }: Said, spots: Spots): void {
  const top = paper.y;
  paper.say('P', name, STYLES.strong, spots.who);
  paper.say('P', address, STYLES.small, spots.who);
  const below = paper.y;
  if (reach === '') return;
  if (spots.reach !== null) paper.y = top;
  paper.say('P', reach, STYLES.small, spots.reach ?? spots.who);
  paper.y = Math.max(below, paper.y);
}

/** What this paper is, in one line; then the sum or the date that matters, standing on a board; then what it means. */
export function answer(
  paper: Paper,
  title: string,
  large: string,
  meaning: string,
  most: number = STYLES.answer.size,
): void {
  const style = fitted(paper, large, most);
  paper.room(paper.height(title, STYLES.title) + paper.height(large, style) + paper.height(meaning, STYLES.body) + 30);
  paper.say('H1', title, STYLES.title);
  paper.y += 8;
  paper.say('P', large, style, { color: COBALT });
  paper.y += -4;
  paper.rule(2.2);
  paper.y += 9;
  paper.say('P', meaning, STYLES.body);
  paper.y += 8;
}

/** The largest size at which the answer stays on one line; a very long one wraps at the smallest. */
function fitted(paper: Paper, large: string, most: number): Style {
  const { face, size, leading } = STYLES.answer;
  const fits = Math.min(most, (size * paper.width) / (paper.textWidth(large, STYLES.answer) + 1));
  const chosen = Math.max(18, Math.floor(fits));
  return { face, size: chosen, leading: Math.round((leading * chosen) / size) };
}

export type Fact = { label: string; lines: readonly string[] };

const FACTS_HIGHEST = 200;

/** Short facts side by side, each under its label; very long ones below each other. */
export function facts(paper: Paper, columns: readonly (readonly Fact[])[]): void {
  const gutter = 16;
  const width = (paper.width - gutter * (columns.length - 1)) / columns.length;
  const heights = columns.map((column) => column.reduce((sum, fact) => sum + factHeight(paper, fact, width), 0));
  const height = Math.max(...heights);
  if (height > FACTS_HIGHEST) {
    stacked(paper, columns.flat());
    return;
  }
  paper.room(height);
  const top = paper.y;
  for (const [i, column] of columns.entries()) {
    paper.y = top;
    for (const fact of column) drawFact(paper, fact, paper.left + i * (width + gutter), width);
  }
  paper.y = top + height + 3;
}

function stacked(paper: Paper, all: readonly Fact[]): void {
  for (const { label, lines } of all) {
    paper.room(paper.height(lines[0] ?? '', STYLES.body) + 12);
    paper.say('P', label, STYLES.small);
    for (const line of lines) {
      paper.room(paper.height(line, STYLES.body));
      paper.say('P', line, STYLES.body);
    }
    paper.y += 8;
  }
}

const labelHeight = (paper: Paper, fact: Fact, width: number) => paper.height(fact.label, STYLES.small, width) + 1;
const factHeight = (paper: Paper, fact: Fact, width: number) =>
  labelHeight(paper, fact, width) + paper.height(fact.lines.join('\n'), STYLES.body, width) + 7;

function drawFact(paper: Paper, fact: Fact, x: number, width: number): void {
  const top = paper.y;
  paper.tag('P', () => {
    paper.put(fact.label, STYLES.small, { x, width });
    paper.y += labelHeight(paper, fact, width);
    paper.put(fact.lines.join('\n'), STYLES.body, { x, width });
  });
  paper.y = top + factHeight(paper, fact, width);
}

/** The heading of a part, which stays with what follows it. */
export function heading(paper: Paper, text: string, keepWith: number, above = 18): void {
  paper.room(18 + above + keepWith);
  paper.space(above);
  paper.say('H2', text, STYLES.heading);
  paper.y += 3;
}

const INDENT = 12; // room for two digits
const BETWEEN_ITEMS = 3;
const itemHeight = (paper: Paper, item: string, style: Style) =>
  paper.height(item, style, paper.width - INDENT) + BETWEEN_ITEMS;

export const listHeight = (paper: Paper, items: readonly string[], style: Style = STYLES.body) =>
  items.reduce((sum, item) => sum + itemHeight(paper, item, style), 0);

/** A list of sentences in full ink, behind dashes or behind numbers; no sentence is parted. */
export function drawList(
  paper: Paper,
  items: readonly string[],
  label: (i: number) => string = () => '–',
  style: Style = STYLES.body,
): void {
  paper.within('L', () => {
    for (const [i, item] of items.entries()) {
      paper.room(itemHeight(paper, item, style));
      paper.within('LI', () => {
        paper.tag('Lbl', () => paper.put(label(i), STYLES.strong));
        paper.say('LBody', item, style, { x: paper.left + INDENT });
      });
      paper.y += BETWEEN_ITEMS;
    }
  });
}

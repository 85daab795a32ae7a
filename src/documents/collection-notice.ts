import { numberFormat } from '../trade/text/formatters.js';
import { CollectionContent, owedSums } from './collection-content.js';
import { evidenceInWords, evidenceOf, USE_CAUTIONS, useInShort } from './collection-uses.js';
import { drawPaper } from './draw-paper.js';
import { answer, drawList, facts, heading, letterhead, listHeight } from './head.js';
import type { Paper } from './paper.js';
import { chooseScale, drawBoards, firstBoardHeight } from './profile.js';
import { STYLES, type Style } from './style.js';
import { drawTable, figures, type TableRow } from './table.js';
import { DECORATIVE } from './use-words.js';
import { countOf, dateInWords, moneyInText, moneyInWords } from './words.js';

/** How much room a notice gives its parts, in points. `boards`: how high they may be together; null: none is drawn. */
type Room = { boards: number | null; above: number; text: Style; answer: number; owed: 'table' | 'sentence' };

/** One piece leaves the rest of its page to the table and the cautions, a few leave it to their table, many take a page and a half. */
const roomy = (count: number): Room => ({
  boards: count === 1 ? 80 : count <= 12 ? 170 : 640,
  ...{ above: 18, text: STYLES.body, answer: STYLES.answer.size, owed: 'table' },
});

/** A few pieces on one page with their cautions, so that these are not on a second sheet that stays behind. */
const TIGHT: Room = {
  ...{ boards: 60, above: 7, answer: 22, owed: 'sentence' },
  text: { ...STYLES.small, leading: 10 },
};

/**
 * Draws the notice that tells a maker what is ready, on half a sheet; the same content gives the same bytes.
 *
 * @throws ZodError where the content is not as it must be, RangeError where a name can't be printed
 */
export async function renderCollectionNotice(
  unchecked: CollectionContent,
  logo: Uint8Array | null = null,
): Promise<Buffer> {
  const content = CollectionContent.parse(unchecked);
  const { locale, pieces } = content;
  const by = dateInWords(content.collectBy, locale);
  const ready = `${countOf(pieces.length, 'piece')} ready to collect`;
  const title = `${ready}, by ${by}`;
  const frame = { sheet: 'half', title, footer: title, day: content.writtenOn, content, logo } as const;

  const draw = (room: Room) => (paper: Paper) => drawNotice(paper, content, room);
  return drawPaper(frame, draw(roomy(pieces.length)), [draw(TIGHT), draw({ ...TIGHT, boards: null, above: 4 })]);
}

function drawNotice(paper: Paper, content: CollectionContent, room: Room): void {
  const { studio, locale, pieces } = content;
  letterhead(paper, studio);
  const title = `${content.maker.name}: ${countOf(pieces.length, 'piece')} ready to collect`;
  const large = `by ${dateInWords(content.collectBy, locale, true)}`;
  answer(paper, title, large, `Please collect by this day. ${content.afterThat}`, room.answer);
  const owed = owedSums(content).totalMinor;
  facts(paper, [
    [{ label: 'Where', lines: content.where }],
    [{ label: 'When', lines: content.when }],
    [
      {
        label: 'To pay',
        lines: [owed > 0 ? moneyInWords(content)(owed) : 'nothing', `as at ${dateInWords(content.writtenOn, locale)}`],
      },
    ],
  ]);
  if (room.owed === 'sentence') sayOwed(paper, content, room);
  drawPieces(paper, content, room);
  drawEvidence(paper, content, room);
  if (room.owed === 'table') drawOwed(paper, content);
  heading(paper, 'Before you use your work', listHeight(paper, USE_CAUTIONS, room.text), room.above);
  drawList(paper, USE_CAUTIONS, undefined, room.text);
}

function drawPieces(paper: Paper, { pieces, locale }: CollectionContent, room: Room): void {
  if (room.boards === null) heading(paper, 'Your pieces', 16, room.above);
  else {
    const boards = chooseScale(paper, pieces, room.boards);
    heading(paper, 'Your pieces', firstBoardHeight(boards) + 16, room.above);
    paper.say('P', `Drawn to scale, 1 : ${boards.scale}${assumedNote(pieces)}`, STYLES.small);
    paper.y += 8;
    drawBoards(paper, boards);
  }
  const evidence = evidenceOf(pieces);
  const number = numberFormat(locale, { maximumFractionDigits: 0 });
  const rows: TableRow[] = pieces.map((piece) => {
    const size = `${number.format(piece.widthMm)} × ${number.format(piece.heightMm)}\u00a0mm`;
    const use = useInShort(piece.use, evidence);
    return {
      cells: [
        { text: piece.code, strong: true },
        `${piece.description}\n${piece.sizeBasis === 'assumed' ? 'about ' : ''}${size}`,
        `${piece.firing}\n${dateInWords(piece.firedOn, locale)}`,
        use === DECORATIVE ? { text: use, strong: true } : use,
      ],
    };
  });
  const columns = [
    { head: 'Code', atMost: 70 },
    { head: 'Piece' },
    { head: 'Firing', atMost: 80 },
    { head: 'What it may be used for', atMost: 96 },
  ];
  drawTable(paper, columns, rows);
}

const assumedNote = (pieces: CollectionContent['pieces']) =>
  pieces.some((piece) => piece.sizeBasis === 'assumed') ? '. Sizes marked “about” are estimates.' : '.';

function drawEvidence(paper: Paper, { pieces, locale }: CollectionContent, room: Room): void {
  const evidence = evidenceOf(pieces);
  if (evidence.length === 0) return;
  const notes = evidence.map((one) => evidenceInWords(one, locale));
  heading(paper, 'Notes on use', listHeight(paper, notes.slice(0, 1), room.text), room.above);
  drawList(paper, notes, (i) => String(i + 1), room.text);
}

/** What is owed in a sentence, the firing fees first and by themselves, as in the table. */
function sayOwed(paper: Paper, content: CollectionContent, { text }: Room): void {
  const { firingMinor, otherMinor } = owedSums(content);
  if (firingMinor + otherMinor === 0) return;
  const money = moneyInText(content);
  const said = (label: string, sumMinor: number, owed: CollectionContent['firingFees']) =>
    sumMinor === 0
      ? []
      : `${label} ${money(sumMinor)}: ${owed.map((one) => `${one.description} ${money(one.amountMinor)}`).join('; ')}.`;
  const sentences = [
    said('Firing fees', firingMinor, content.firingFees),
    said('Other charges', otherMinor, content.otherOwed),
    content.howToPay ?? [],
  ].flat();
  paper.y -= 8; // the facts above end with room of their own
  for (const sentence of sentences) paper.say('P', sentence, text);
}

function drawOwed(paper: Paper, content: CollectionContent): void {
  const { firingMinor, otherMinor, totalMinor } = owedSums(content);
  if (totalMinor === 0) return;
  const money = moneyInWords(content);
  const lines = (owed: CollectionContent['firingFees']): TableRow[] =>
    owed.map((one) => ({ cells: [one.description, money(one.amountMinor)] }));
  const rows: TableRow[] = [];
  if (firingMinor > 0)
    rows.push(...lines(content.firingFees), { cells: ['Firing fees', money(firingMinor)], sum: true });
  if (otherMinor > 0)
    rows.push(...lines(content.otherOwed), { cells: ['Other charges', money(otherMinor)], sum: true });
  if (firingMinor > 0 && otherMinor > 0) rows.push({ cells: ['Total', money(totalMinor)], sum: true });
  drawTable(paper, [{ head: 'Description' }, figures('Amount')], rows, 'To pay');
  if (content.howToPay === null) return;
  paper.y += 10;
  paper.room(paper.height(content.howToPay, STYLES.body));
  paper.say('P', content.howToPay, STYLES.body);
}

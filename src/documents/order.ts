import { drawPaper } from './draw-paper.js';
import { answer, facts, letterhead } from './head.js';
import { OrderContent } from './order-content.js';
import { STYLES } from './style.js';
import { drawTable, figures, type TableRow } from './table.js';
import { countOf, dateInWords, moneyInWords } from './words.js';

/**
 * Draws an order to a supplier; the same content gives the same bytes.
 *
 * @throws ZodError where the content contradicts itself, RangeError where a name can't be printed
 */
export async function renderOrder(unchecked: OrderContent, logo: Uint8Array | null = null): Promise<Buffer> {
  const content = OrderContent.parse(unchecked);
  const { studio, supplier, locale } = content;
  const title = `Order ${content.number}`;
  const frame = { title, footer: title, day: content.placedOn, content, logo };
  const money = moneyInWords(content);

  return drawPaper({ sheet: 'whole', ...frame }, (paper) => {
    letterhead(paper, studio);
    const expected = dateInWords(content.expectedOn, locale, true);
    const meaning = `${countOf(content.lines.length, 'item')}. Please deliver by ${expected}.`;
    answer(paper, title, money(content.totalMinor), meaning);
    facts(paper, [
      [{ label: 'To', lines: [supplier.name, ...supplier.addressLines] }],
      [{ label: 'Deliver to', lines: [studio.name, ...studio.addressLines] }],
      [{ label: 'Date of order', lines: [dateInWords(content.placedOn, locale)] }],
    ]);
    drawTable(
      paper,
      [{ head: 'Item' }, figures('Pack size'), figures('Quantity'), figures('Price each'), figures('Amount')],
      [...content.lines.map((line) => lineOf(line, money)), ...sums(content, money)],
    );
    if (content.note !== null) {
      paper.space(12);
      paper.room(paper.height(content.note, STYLES.body));
      paper.say('P', content.note, STYLES.body);
    }
  });
}

type Money = (minor: number) => string;

const lineOf = (line: OrderContent['lines'][number], money: Money): TableRow => ({
  cells: [line.name, line.pack, String(line.packs), money(line.packPriceMinor), money(line.amountMinor)],
});

function sums({ carriageMinor, totalMinor }: OrderContent, money: Money): TableRow[] {
  const carriage = carriageMinor === 0 ? 'free' : money(carriageMinor);
  return [
    { cells: ['Carriage', '', '', '', carriage] },
    { cells: ['Total', '', '', '', money(totalMinor)], sum: true },
  ];
}

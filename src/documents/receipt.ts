import { drawPaper } from './draw-paper.js';
import { answer, facts, letterhead } from './head.js';
import type { Paper } from './paper.js';
import { ReceiptContent } from './receipt-content.js';
import { STYLES } from './style.js';
import { drawTable, figures, RATE, type TableColumn, type TableRow } from './table.js';
import { rateInWords, vatSums } from './vat-lines.js';
import { dateInWords, methodInWords, moneyInText, moneyInWords, unitPrice, unpartedCode } from './words.js';

const TITLES = {
  receipt: 'Receipt',
  'vat-simplified': 'Receipt and simplified VAT invoice',
  'vat-full': 'Receipt and VAT invoice',
} as const;

/**
 * Draws a receipt on half a sheet; the same content gives the same bytes.
 *
 * @throws ZodError where the content contradicts itself, RangeError where a name can't be printed
 */
export async function renderReceipt(unchecked: ReceiptContent, logo: Uint8Array | null = null): Promise<Buffer> {
  const content = ReceiptContent.parse(unchecked);
  const title = `${TITLES[content.kind]} ${content.number}`;
  const { studio, locale } = content;
  const frame = { title, footer: title, day: content.issuedOn, content, logo };
  const money = moneyInWords(content);

  return drawPaper({ sheet: 'half', ...frame }, (paper) => {
    letterhead(paper, studio);
    answer(paper, title, money(content.totalMinor), paidInWords(content));
    facts(paper, [
      [{ label: 'For', lines: [content.payer.name, ...content.payer.addressLines] }],
      [{ label: 'Date of issue', lines: [dateInWords(content.issuedOn, locale)] }],
      content.kind === 'receipt' ? [] : [{ label: 'Tax point', lines: taxPointLines(content) }],
    ]);
    drawLines(paper, content);
    if (content.kind !== 'receipt') drawVat(paper, content);
    drawSupplies(paper, content);
  });
}

function paidInWords({ voucher, method, carriedFrom, payer, receivedOn, studio, ...manner }: ReceiptContent): string {
  if (carriedFrom) {
    const { what, creditNote } = carriedFrom;
    return `Carried over for ${payer.name} on ${dateInWords(receivedOn, manner.locale)}, from what was paid for ${what} (credit note ${creditNote}). No money changes hands.`;
  }
  const paid = `from ${payer.name} on ${dateInWords(receivedOn, manner.locale)}`;
  if (voucher === undefined) return `Received ${methodInWords(method)} ${paid}. Thank you.`;
  const left = `${moneyInText(manner)(voucher.leftMinor)} remains on it.`;
  const tax = 'VAT was accounted for when the voucher was sold.';
  const sentence = `Received by voucher ${unpartedCode(voucher.code)} ${paid}. Thank you. ${left}`;
  return voucher.taxed === 'when-sold' && studio.vatNumber !== undefined ? `${sentence} ${tax}` : sentence;
}

const taxPointsOf = ({ lines }: ReceiptContent) => [...new Set(lines.flatMap(({ taxPoint }) => taxPoint ?? []))].sort();

/** One day, or each with its line: what was supplied in July and what is still to come may be paid at once. */
function taxPointLines(content: ReceiptContent): string[] {
  const [only, ...more] = taxPointsOf(content);
  return only === undefined || more.length > 0 ? ['as each line says'] : [dateInWords(only, content.locale)];
}

function descriptionOf(line: ReceiptContent['lines'][number], content: ReceiptContent): string {
  const what = line.netMinor < line.priceNetMinor ? `Part payment: ${line.description}` : line.description;
  if (line.taxPoint === null || content.kind === 'receipt' || taxPointsOf(content).length === 1) return what;
  return `${what}\nTax point ${dateInWords(line.taxPoint, content.locale)}`;
}

function drawLines(paper: Paper, content: ReceiptContent): void {
  const money = moneyInWords(content);
  const full = content.kind === 'vat-full';
  const withTax = full || content.studio.vatNumber !== undefined;
  const columns: TableColumn[] = [
    { head: 'Description' },
    figures('Quantity'),
    ...(full ? [figures('Unit price\n(excl. VAT)')] : []),
    ...(withTax ? [RATE] : []),
    figures(full ? 'Net' : 'Amount'),
  ];
  const rows: TableRow[] = content.lines.map((line) => ({
    cells: [
      descriptionOf(line, content),
      String(line.quantity),
      ...(full ? [unitPrice(line.priceNetMinor, line.quantity, content)] : []),
      ...(withTax ? [rateInWords(line, content.locale)] : []),
      money(full ? line.netMinor : line.grossMinor),
    ],
  }));
  const sum = (label: string, minor: number): TableRow => ({
    cells: [label, ...columns.slice(2).map(() => ''), money(minor)],
    sum: true,
  });
  const vatMinor = content.lines.reduce((total, line) => total + line.vatMinor, 0);
  if (full) rows.push(sum('Total excl. VAT', content.totalMinor - vatMinor), sum('VAT', vatMinor));
  rows.push(sum(full ? 'Total incl. VAT' : 'Total', content.totalMinor));
  drawTable(paper, columns, rows);
}

function drawVat(paper: Paper, content: ReceiptContent): void {
  const money = moneyInWords(content);
  const sums = vatSums(content.lines);
  const full = content.kind === 'vat-full';
  drawTable(
    paper,
    [{ head: 'Rate' }, ...(full ? [figures('Net'), figures('VAT')] : []), figures('Incl. VAT')],
    sums.map((s) => ({
      cells: [
        rateInWords(s, content.locale),
        ...(full ? [money(s.netMinor), money(s.vatMinor)] : []),
        money(s.grossMinor),
      ],
    })),
    'VAT by rate',
  );
}

function drawSupplies(paper: Paper, content: ReceiptContent): void {
  if (content.supplies.length === 0) return;
  const money = moneyInWords(content);
  const columns = ['Price', 'Paid earlier', 'Paid now', 'Still to pay'].map(figures);
  drawTable(
    paper,
    [{ head: 'Course or charge' }, ...columns],
    content.supplies.map((s) => ({
      cells: [
        s.description,
        money(s.priceMinor),
        money(s.paidBeforeMinor),
        money(s.paidNowMinor),
        { text: money(s.stillToPayMinor), strong: true },
      ],
    })),
    'Paid so far',
  );
  for (const supply of content.supplies) {
    const sentence = balanceInWords(supply, content);
    if (sentence === null) continue;
    paper.y += 10;
    paper.room(paper.height(sentence, STYLES.strong));
    paper.say('P', sentence, STYLES.strong);
  }
}

/** What is still to pay and by when; it names what for only where that could be several things. */
function balanceInWords(supply: ReceiptContent['supplies'][number], content: ReceiptContent): string | null {
  const { description, stillToPayMinor, payBy, stillDue } = supply;
  if (stillToPayMinor === 0 || payBy === null) return null;
  const money = moneyInText(content);
  const by = (on: string) => `by ${dateInWords(on, content.locale, true)}`;
  const parts = stillDue?.map(({ amountMinor, dueOn }) => `${money(amountMinor)} ${by(dueOn)}`).join('; ');
  const when = parts === undefined ? ` due ${by(payBy)}` : ` due: ${parts}`;
  const what = content.supplies.length === 1 ? 'Balance' : `${description}: balance`;
  return `${what} of ${money(stillToPayMinor)}${when}.`;
}

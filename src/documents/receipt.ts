import { answer, facts, letterhead } from './head.js';
import { Paper, STYLES } from './paper.js';
import { ReceiptContent } from './receipt-content.js';
import { type Column, drawTable, figures, type Row } from './table.js';
import { vatSums } from './vat-lines.js';
import { dateInWords, methodInWords, moneyIn, percentInWords, unitPrice, unpartedCode } from './words.js';

const TITLES = {
  receipt: 'Receipt',
  'vat-simplified': 'Receipt and simplified VAT invoice',
  'vat-full': 'Receipt and VAT invoice',
} as const;

/**
 * Draws a receipt on A5; the same content gives the same bytes.
 *
 * @throws ZodError where the content contradicts itself, RangeError where a name can't be printed
 */
export async function renderReceipt(unchecked: ReceiptContent): Promise<Buffer> {
  const content = ReceiptContent.parse(unchecked);
  const title = `${TITLES[content.kind]} ${content.number}`;
  const { studio, locale } = content;
  const frame = { title, footer: title, studioName: studio.name, lang: content.language, day: content.issuedOn };
  const paper = new Paper({ format: 'A5', ...frame, content });
  const money = moneyIn(content);
  const received = dateInWords(content.receivedOn, locale);

  letterhead(paper, studio);
  const how = `Received ${methodInWords(content.method)} from ${content.payer.name} on ${received}. Thank you.${voucherInWords(content)}`;
  answer(paper, title, money(content.totalMinor), how);
  const taxPoint = { label: 'Tax point', lines: [received] };
  facts(paper, [
    [{ label: 'For', lines: [content.payer.name, ...content.payer.addressLines] }],
    [{ label: 'Written on', lines: [dateInWords(content.issuedOn, locale)] }],
    content.kind === 'receipt' ? [] : [taxPoint],
  ]);
  drawLines(paper, content);
  if (content.kind !== 'receipt') drawVat(paper, content);
  drawSupplies(paper, content);
  return paper.finish();
}

function voucherInWords({ voucher, studio, ...manner }: ReceiptContent): string {
  if (voucher === undefined) return '';
  const left = `Voucher ${unpartedCode(voucher.code)} has ${moneyIn(manner)(voucher.leftMinor)} left.`;
  const tax = 'Its VAT was accounted for when it was sold, so none is due on this payment.';
  return voucher.taxed === 'when-sold' && studio.vatNumber !== undefined ? ` ${left} ${tax}` : ` ${left}`;
}

function drawLines(paper: Paper, content: ReceiptContent): void {
  const money = moneyIn(content);
  const full = content.kind === 'vat-full';
  const withTax = full || content.studio.vatNumber !== undefined;
  const columns: Column[] = [
    { head: 'What for' },
    figures('Number'),
    ...(full ? [figures('Each,\nwithout VAT')] : []),
    ...(withTax ? [figures('VAT')] : []),
    figures(full ? 'Without VAT' : 'Amount'),
  ];
  const rows: Row[] = content.lines.map((line) => ({
    cells: [
      line.description,
      String(line.quantity),
      ...(full ? [unitPrice(line.netMinor, line.quantity, content)] : []),
      ...(withTax ? [rate(line, content.locale)] : []),
      money(full ? line.netMinor : line.grossMinor),
    ],
  }));
  const sum = (label: string, minor: number): Row => ({
    cells: [label, ...columns.slice(2).map(() => ''), money(minor)],
    sum: true,
  });
  const vatMinor = content.lines.reduce((total, line) => total + line.vatMinor, 0);
  if (full) rows.push(sum('Total without VAT', content.totalMinor - vatMinor), sum('VAT', vatMinor));
  rows.push(sum(full ? 'Total with VAT' : 'Total', content.totalMinor));
  drawTable(paper, columns, rows);
}

const rate = (line: { vatPercent: string | null; taxLabel: string }, locale: string) =>
  line.vatPercent === null ? line.taxLabel : percentInWords(line.vatPercent, locale);

function drawVat(paper: Paper, content: ReceiptContent): void {
  const money = moneyIn(content);
  const sums = vatSums(content.lines);
  const full = content.kind === 'vat-full';
  drawTable(
    paper,
    [{ head: 'Rate' }, ...(full ? [figures('Without VAT'), figures('VAT')] : []), figures('With VAT')],
    sums.map((s) => ({
      cells: [rate(s, content.locale), ...(full ? [money(s.netMinor), money(s.vatMinor)] : []), money(s.grossMinor)],
    })),
    'VAT by rate',
  );
}

function drawSupplies(paper: Paper, content: ReceiptContent): void {
  if (content.supplies.length === 0) return;
  const money = moneyIn(content);
  drawTable(
    paper,
    [
      { head: 'Of the whole price' },
      figures('Price'),
      figures('Paid before'),
      figures('Paid now'),
      figures('Still to pay'),
    ],
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
  for (const s of content.supplies) {
    if (s.stillToPayMinor === 0 || s.payBy === null) continue;
    paper.y += 10;
    const day = (on: string) => dateInWords(on, content.locale, true);
    const parts = s.stillDue?.map(({ amountMinor, dueOn }) => `${money(amountMinor)} by ${day(dueOn)}`).join('; ');
    const when = parts === undefined ? ` by ${day(s.payBy)}` : `: ${parts}`;
    const sentence = `Please pay ${money(s.stillToPayMinor)} more for ${s.description}${when}.`;
    paper.room(paper.height(sentence, STYLES.strong));
    paper.say('P', sentence, STYLES.strong);
  }
}

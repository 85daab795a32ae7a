import { CreditNoteContent } from './credit-note-content.js';
import { answer, facts, letterhead } from './head.js';
import { Paper } from './paper.js';
import { drawTable, figures, type Row } from './table.js';
import { dateInWords, methodInWords, moneyIn, percentInWords, unpartedCode } from './words.js';

/**
 * Draws a credit note on A5; the same content gives the same bytes.
 *
 * @throws ZodError where the content contradicts itself, RangeError where a name can't be printed
 */
export async function renderCreditNote(unchecked: CreditNoteContent): Promise<Buffer> {
  const content = CreditNoteContent.parse(unchecked);
  const { studio, locale, customer, corrects } = content;
  const title = `Credit note ${content.number}`;
  const frame = { title, footer: title, studioName: studio.name, lang: content.language, day: content.issuedOn };
  const paper = new Paper({ format: 'A5', ...frame, content });

  letterhead(paper, studio);
  answer(paper, title, moneyIn(content)(content.totalMinor), settlementInWords(content));
  facts(paper, [
    [{ label: 'For', lines: [customer.name, ...customer.addressLines] }],
    [{ label: 'Written on', lines: [dateInWords(content.issuedOn, locale)] }],
    [
      {
        label: content.kind === 'receipt' ? 'Corrects receipt' : 'Corrects VAT invoice',
        lines: corrects.flatMap(({ number, issuedOn }) => [number, `of ${dateInWords(issuedOn, locale)}`]),
      },
    ],
  ]);
  facts(paper, [[{ label: 'Because', lines: [content.reason] }]]);
  drawLines(paper, content);
  return paper.finish();
}

function settlementInWords(content: CreditNoteContent): string {
  const { settlement, customer, locale } = content;
  switch (settlement.how) {
    case 'paid-back':
      return `Paid back to ${customer.name} ${methodInWords(settlement.method)} on ${dateInWords(settlement.on, locale)}.`;
    case 'in-parts':
      return partsInWords(content, settlement);
    case 'to-pay-back':
      return `Goes back to ${customer.name}; the payment follows.`;
    case 'less-owed':
      return `${customer.name} owes this much less.`;
  }
}

type InParts = Extract<CreditNoteContent['settlement'], { how: 'in-parts' }>;

function partsInWords(content: CreditNoteContent, { parts, on }: InParts): string {
  const money = moneyIn(content);
  const ways = parts.map(({ amountMinor, method, voucher }) => {
    if (voucher === null) return `${money(amountMinor)} ${methodInWords(method)}`;
    const code = unpartedCode(voucher.code);
    return voucher.isNew
      ? `${money(amountMinor)} on the new voucher ${code}, since the one that paid is no longer valid`
      : `${money(amountMinor)} on voucher ${code}`;
  });
  const day = dateInWords(on, content.locale);
  return `Goes back to ${content.customer.name} on ${day}: ${ways.join('; ')}.`;
}

function drawLines(paper: Paper, content: CreditNoteContent): void {
  const money = moneyIn(content);
  if (content.kind === 'receipt') {
    const rows: Row[] = content.lines.map((line) => ({
      cells: [line.description, String(line.quantity), money(line.grossMinor)],
    }));
    rows.push({ cells: ['Total', '', money(content.totalMinor)], sum: true });
    drawTable(paper, [{ head: 'What is taken back' }, figures('Number'), figures('Amount')], rows);
    return;
  }
  const rows: Row[] = content.lines.map((line) => ({
    cells: [
      line.description,
      line.vatPercent === null ? line.taxLabel : percentInWords(line.vatPercent, content.locale),
      money(line.netMinor),
      money(line.vatMinor),
      money(line.grossMinor),
    ],
  }));
  const vatMinor = content.lines.reduce((total, line) => total + line.vatMinor, 0);
  const totals = [money(content.totalMinor - vatMinor), money(vatMinor), money(content.totalMinor)];
  rows.push({ cells: ['Total', '', ...totals], sum: true });
  const heads = ['Rate', 'Without VAT', 'VAT', 'With VAT'];
  drawTable(paper, [{ head: 'What is taken back' }, ...heads.map(figures)], rows);
}

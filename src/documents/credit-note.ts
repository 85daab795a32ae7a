import { CreditNoteContent } from './credit-note-content.js';
import { drawPaper } from './draw-paper.js';
import { answer, facts, letterhead } from './head.js';
import type { Paper } from './paper.js';
import { drawTable, figures, RATE, type TableRow } from './table.js';
import { rateInWords } from './vat-lines.js';
import { dateInWords, methodInWords, moneyInText, moneyInWords, unpartedCode } from './words.js';

/**
 * Draws a credit note on half a sheet; the same content gives the same bytes.
 *
 * @throws ZodError where the content contradicts itself, RangeError where a name can't be printed
 */
export async function renderCreditNote(unchecked: CreditNoteContent, logo: Uint8Array | null = null): Promise<Buffer> {
  const content = CreditNoteContent.parse(unchecked);
  const { studio, locale, customer, corrects } = content;
  const title = `Credit note ${content.number}`;
  const frame = { title, footer: title, day: content.issuedOn, content, logo };

  return drawPaper({ sheet: 'half', ...frame }, (paper) => {
    letterhead(paper, studio);
    answer(paper, title, moneyInWords(content)(content.totalMinor), settlementInWords(content));
    facts(paper, [
      [{ label: 'For', lines: [customer.name, ...customer.addressLines] }],
      [{ label: 'Date of issue', lines: [dateInWords(content.issuedOn, locale)] }],
      [
        {
          label: content.kind === 'receipt' ? 'Relates to receipt' : 'Relates to VAT invoice',
          lines: corrects.map(({ number, issuedOn }) => `${number} dated ${dateInWords(issuedOn, locale)}`),
        },
      ],
    ]);
    facts(paper, [[{ label: 'Reason', lines: [content.reason] }]]);
    drawLines(paper, content);
  });
}

function settlementInWords(content: CreditNoteContent): string {
  const { settlement, customer, locale } = content;
  switch (settlement.how) {
    case 'paid-back':
      return `Refunded to ${customer.name} ${methodInWords(settlement.method)} on ${dateInWords(settlement.on, locale)}.`;
    case 'in-parts':
      return partsInWords(content, settlement);
    case 'to-pay-back':
      return `To be refunded to ${customer.name}.`;
    case 'less-owed':
      return `Deducted from what ${customer.name} owes.`;
    case 'reversed':
      return settlement.voucher === null
        ? 'The payment was entered by mistake and is taken back; no money is refunded.'
        : `The payment was entered by mistake and is taken back; the sum is on voucher ${unpartedCode(settlement.voucher)} again.`;
  }
}

type InParts = Extract<CreditNoteContent['settlement'], { how: 'in-parts' }>;

function partsInWords(content: CreditNoteContent, { parts, on }: InParts): string {
  const money = moneyInText(content);
  const carried = parts.filter(({ method }) => method === 'carried');
  const back = parts.filter(({ method }) => method !== 'carried');
  const ways = back.map(({ amountMinor, method, voucher }) => {
    if (voucher === null) return `${money(amountMinor)} ${methodInWords(method)}`;
    const code = unpartedCode(voucher.code);
    return voucher.isNew
      ? `${money(amountMinor)} to the new voucher ${code}, because the one that paid has expired`
      : `${money(amountMinor)} to voucher ${code}`;
  });
  const day = dateInWords(on, content.locale);
  const refunded = back.length === 0 ? '' : `Refunded to ${content.customer.name} on ${day}: ${ways.join('; ')}.`;
  const over = carried.map(
    ({ amountMinor, carriedTo }) => `${money(amountMinor)} carried over on ${day} to ${carriedTo}.`,
  );
  return [refunded, ...over].filter((sentence) => sentence !== '').join(' ');
}

function drawLines(paper: Paper, content: CreditNoteContent): void {
  const money = moneyInWords(content);
  if (content.kind === 'receipt') {
    const rows: TableRow[] = content.lines.map((line) => ({
      cells: [line.description, String(line.quantity), money(line.grossMinor)],
    }));
    rows.push({ cells: ['Total', '', money(content.totalMinor)], sum: true });
    drawTable(paper, [{ head: 'Description' }, figures('Quantity'), figures('Amount')], rows);
    return;
  }
  const rows: TableRow[] = content.lines.map((line) => ({
    cells: [
      line.description,
      String(line.quantity),
      rateInWords(line, content.locale),
      money(line.netMinor),
      money(line.vatMinor),
      money(line.grossMinor),
    ],
  }));
  const vatMinor = content.lines.reduce((total, line) => total + line.vatMinor, 0);
  const totals = [money(content.totalMinor - vatMinor), money(vatMinor), money(content.totalMinor)];
  rows.push({ cells: ['Total', '', '', ...totals], sum: true });
  const columns = [{ head: 'Description' }, figures('Quantity'), { ...RATE, head: 'Rate' }];
  drawTable(paper, [...columns, ...['Net', 'VAT', 'Incl. VAT'].map(figures)], rows);
}

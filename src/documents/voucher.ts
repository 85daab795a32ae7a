import { voucherCodeInWords } from '../trade/voucher-code.js';
import { answer, facts, heading, letterhead, list, listHeight } from './head.js';
import { Paper, STYLES } from './paper.js';
import { VoucherContent } from './voucher-content.js';
import { dateInWords, moneyIn } from './words.js';

/**
 * Draws a voucher on A5; the same content gives the same bytes.
 *
 * @throws ZodError where the content contradicts itself, RangeError where a name can't be printed
 */
export async function renderVoucher(unchecked: VoucherContent): Promise<Buffer> {
  const content = VoucherContent.parse(unchecked);
  const { studio, locale, forWhom, validUntil } = content;
  const code = voucherCodeInWords(content.code);
  const title = `Voucher ${code}`;
  const frame = { title, footer: title, studioName: studio.name, lang: content.language, day: content.issuedOn };
  const paper = new Paper({ format: 'A5', ...frame, content });
  const sum = moneyIn(content)(content.amountMinor);

  letterhead(paper, studio);
  answer(paper, forWhom === null ? 'A voucher' : `A voucher for ${forWhom}`, sum, goodFor(content));
  paper.room(60);
  paper.say('P', 'Its code', STYLES.small);
  paper.y += 3;
  paper.say('P', code, { face: 'semibold', size: 22, leading: 28 });
  paper.y += 8;
  facts(paper, [
    [{ label: 'Written on', lines: [dateInWords(content.issuedOn, locale)] }],
    [{ label: 'Valid until', lines: [validUntil === null ? 'without end' : dateInWords(validUntil, locale, true)] }],
  ]);
  const steps = howToUse(content);
  heading(paper, 'How to use it', listHeight(paper, steps.slice(0, 1)));
  list(paper, steps);
  return paper.finish();
}

const goodFor = ({ goodFor, studio }: VoucherContent) =>
  goodFor === null
    ? `Good for what ${studio.name} offers: courses and firings, all at once or bit by bit.`
    : `Good for ${goodFor}.`;

function howToUse({ taxed, studio, validUntil, locale }: VoucherContent): string[] {
  const reach = [studio.email, studio.phone].filter(Boolean).join(' or ');
  return [
    `Book with ${studio.name}${reach === '' ? '' : ` (${reach})`} and name the code when you pay.`,
    'What you don’t use stays on it. What is refunded later goes back on a voucher.',
    validUntil === null
      ? 'Whoever names the code can use it: keep it as you would keep money.'
      : `Use it by ${dateInWords(validUntil, locale)}. Whoever names the code can use it: keep it as you would keep money.`,
    ...(studio.vatNumber === undefined ? [] : [taxInWords(taxed)]),
  ];
}

const taxInWords = (taxed: VoucherContent['taxed']) =>
  taxed === 'when-sold'
    ? 'VAT was accounted for when this voucher was sold; the receipt of its sale shows it.'
    : 'This voucher is no VAT invoice: VAT is accounted for when it is used, and that receipt shows it.';

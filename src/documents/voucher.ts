import { voucherCodeInWords } from '../trade/text/voucher-code.js';
import { drawPaper } from './draw-paper.js';
import { answer, drawList, facts, heading, letterhead, listHeight } from './head.js';
import { STYLES } from './style.js';
import { VoucherContent } from './voucher-content.js';
import { dateInWords, moneyInWords } from './words.js';

/**
 * Draws a voucher on half a sheet; the same content gives the same bytes.
 *
 * @throws ZodError where the content contradicts itself, RangeError where a name can't be printed
 */
export async function renderVoucher(unchecked: VoucherContent, logo: Uint8Array | null = null): Promise<Buffer> {
  const content = VoucherContent.parse(unchecked);
  const { studio, locale, forWhom, validUntil } = content;
  const code = voucherCodeInWords(content.code);
  const title = `Voucher ${code}`;
  const frame = { title, footer: title, day: content.issuedOn, content, logo };
  const sum = moneyInWords(content)(content.amountMinor);

  return drawPaper({ sheet: 'half', ...frame }, (paper) => {
    letterhead(paper, studio);
    answer(paper, forWhom === null ? 'Gift voucher' : `Gift voucher for ${forWhom}`, sum, goodFor(content));
    paper.room(60);
    paper.say('P', 'Code', STYLES.small);
    paper.y += 3;
    paper.say('P', code, { face: 'semibold', size: 22, leading: 28 });
    paper.y += 8;
    facts(paper, [
      [{ label: 'Date of issue', lines: [dateInWords(content.issuedOn, locale)] }],
      [
        {
          label: 'Expires',
          lines: [validUntil === null ? 'never' : `end of ${dateInWords(validUntil, locale)}`],
        },
      ],
    ]);
    const steps = howToUse(content);
    heading(paper, 'How to use it', listHeight(paper, steps.slice(0, 1)));
    drawList(paper, steps);
  });
}

const goodFor = ({ goodFor, studio }: VoucherContent) =>
  goodFor === null
    ? `For any course or firing at ${studio.name}. Use it all at once or a bit at a time.`
    : `For ${goodFor}.`;

function howToUse({ taxed, studio, validUntil, locale }: VoucherContent): string[] {
  const reach = [studio.email, studio.phone].filter(Boolean).join(' or ');
  return [
    `Book with ${studio.name}${reach === '' ? '' : ` (${reach})`} and give the code when you pay.`,
    'Any balance stays on the voucher. Refunds are made to a voucher.',
    ...(validUntil === null ? [] : [`Use it by ${dateInWords(validUntil, locale, true)}.`]),
    'Anyone with the code can use it, so keep it as safe as cash.',
    ...(studio.vatNumber === undefined ? [] : [taxInWords(taxed)]),
  ];
}

const taxInWords = (taxed: VoucherContent['taxed']) =>
  taxed === 'when-sold'
    ? 'VAT was accounted for when this voucher was sold and is shown on the receipt for it.'
    : 'This is not a VAT invoice. VAT is due when the voucher is used and will be shown on that receipt.';

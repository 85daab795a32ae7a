import { z } from 'zod';
import { UpTo } from '../http/types.js';
import { numberFormat } from '../trade/text/formatters.js';
import { unprintable } from './fonts.js';
import { PAPER_SIZES } from './sheet.js';

const ONE_LINE = /^\P{Cc}*$/u;

/** One line of print. A control character would break a table's row, or a header when the same name goes into a mail. */
export const PaperLine = z
  .string()
  .trim()
  .min(1)
  .max(300)
  .regex(ONE_LINE, 'Write it on one line, without control characters.');

/** A calendar day, YYYY-MM-DD. */
export const PaperDay = z.iso.date();

/** Whole minor units of the document's currency, never below zero: papers say in words which way money goes. */
export const PaperMinor = z.int().min(0);

const AddressLines = z.array(PaperLine).max(8);

export const StudioHead = z
  .strictObject({
    name: PaperLine,
    addressLines: AddressLines.min(1, 'Give the address of the studio.').readonly(),
    email: z.email().optional(),
    phone: PaperLine.optional(),
    legal: z.string().trim().min(1).max(1000).regex(ONE_LINE).optional().meta({
      description:
        'Who is behind the name of the studio, where papers must say it; see trade/text/trading-disclosure.ts.',
    }),
    vatNumber: PaperLine.optional().meta({ description: 'Absent where the studio is not registered for VAT.' }),
  })
  .readonly();
export type StudioHead = z.output<typeof StudioHead>;

/** Whom a paper is for. The address may be empty, but not on a full VAT invoice. */
export const Party = z.strictObject({ name: PaperLine, addressLines: AddressLines.readonly() }).readonly();
export type Party = z.output<typeof Party>;

const Currency = z.string().regex(/^[A-Z]{3}$/, 'Give the currency by its three letters, such as EUR.');

export const Locale = UpTo(35).refine(
  (locale) => {
    try {
      return unprintable(numberFormat(locale).format(1_234_567_890.5)).length === 0;
    } catch {
      return false; // no language tag at all
    }
  },
  { message: 'Give a locale such as en-GB, one that writes numbers in digits from 0 to 9.' },
);

/** What every paper says about itself: who wrote it, in which language, how it writes money and dates. */
export const paperHead = {
  studio: StudioHead,
  currency: Currency,
  locale: Locale,
  language: z.literal('en'),
  paperSize: z.enum(PAPER_SIZES).optional().meta({
    description: 'The sheet it is printed on; absent on papers from before that could be chosen, which are A4.',
  }),
  logo: z
    .string()
    .regex(/^[0-9a-f]{64}$/)
    .optional()
    .meta({ description: 'The SHA-256 of the studio’s logo when it was issued; absent where it had none.' }),
};

/** As `paperHead` is read. */
export type PaperHead = z.output<z.ZodObject<typeof paperHead>>;

const PAYMENT_METHODS = ['cash', 'card', 'transfer', 'voucher', 'carried'] as const;
export const PaymentMethod = z.enum(PAYMENT_METHODS);
export type PaymentMethod = z.output<typeof PaymentMethod>;

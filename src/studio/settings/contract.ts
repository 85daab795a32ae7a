import { z } from 'zod';
import { Locale } from '../../documents/parts.js';
import { PrintedLine } from '../../documents/printable.js';
import { PAPER_SIZES } from '../../documents/sheet.js';
import { DecimalText, Email, Id, Minor, Percent, SingleLine, UpTo } from '../../http/types.js';
import { isTimeZone } from '../../trade/calendar/calendar.js';
import { EMPTY_SPACES } from '../../trade/firing/cost-split.js';

const isLocale = (tag: string) => {
  try {
    return Intl.DateTimeFormat.supportedLocalesOf(tag).length === 1;
  } catch {
    return false;
  }
};
const isCurrency = (code: string) => Intl.supportedValuesOf('currency').includes(code);

/** What one studio is and assumes: whatever no plan, lot or meter says better. */
export const Studio = z
  .strictObject({
    name: PrintedLine(),
    addressLines: z.array(PrintedLine()).min(1).max(8),
    email: Email.nullable(),
    phone: PrintedLine(40).nullable(),
    vatNumber: PrintedLine(40)
      .nullable()
      .meta({ description: 'Only where the studio is registered; without it no VAT is shown.' }),
    legalName: PrintedLine().nullable().default(null).meta({
      description:
        'Your own name, those of all partners, or the registered name of the company, where the studio trades under another. It is printed on papers and in emails.',
    }),
    legalAddress: PrintedLine(300)
      .nullable()
      .default(null)
      .meta({ description: 'An address for service, or the registered office; null where it is the address above.' }),
    companyNumber: PrintedLine(20).nullable().default(null).meta({ description: 'Of a company only.' }),
    registeredIn: PrintedLine(60)
      .nullable()
      .default(null)
      .meta({ description: 'Where the company is registered: "England and Wales".' }),
    currency: UpTo(3).refine(isCurrency, 'must be an ISO 4217 code such as "GBP"'),
    locale: Locale.refine(isLocale, 'must be a language tag such as "en-GB"'),
    timeZone: UpTo(60).refine(isTimeZone, 'must be an IANA time zone such as "Europe/London"'),
    wagePerHourMinor: Minor.meta({ description: "What the owner's hour is worth, in preparing and clearing too." }),
    overheadPerHourMinor: Minor.meta({ description: 'Rent, heating and light for an hour in which the room is used.' }),
    payFloorPerHourMinor: Minor.meta({
      description: 'A course that leaves the owner less than this an hour is a poor one.',
    }),
    surplusPerHourMinor: Minor.meta({
      description:
        'What should be left for each hour of teaching, on average, beyond every cost and wage. Only sessions count as teaching.',
    }),
    poorAtMost: DecimalText.refine((p) => Number(p) > 0 && Number(p) < 1, 'must be between 0 and 1'),
    priceStepMinor: Minor.min(1),
    cardPercent: DecimalText.refine((p) => Number(p) < 50, 'must be below 50'),
    cardFixedMinor: Minor,
    offcutsPercent: Percent,
    remakesPercent: Percent,
    reclaimedPercent: Percent,
    glazeWastePercent: Percent,
    inputVatPercent: Percent.default('0').meta({
      description:
        'VAT in what a registered studio buys. Costs are entered without it, since it is reclaimed; where a supply is exempt it is a cost. A material can name its own.',
    }),
    enrolmentAlpha: DecimalText.refine(
      (a) => Number(a) > 0 && Number(a) <= 10_000,
      'must be above 0 and at most 10000',
    ),
    enrolmentBeta: DecimalText.refine((b) => Number(b) > 0 && Number(b) <= 10_000, 'must be above 0 and at most 10000'),
    storageDays: z.int().min(1).max(3650),
    collectWhere: z
      .array(PrintedLine())
      .min(1)
      .max(6)
      .meta({ description: 'Where to collect work, as notices say it.' }),
    collectWhen: z.array(PrintedLine()).min(1).max(6).meta({ description: 'When, as notices say it.' }),
    afterStorage: PrintedLine(300).meta({ description: 'What happens to work that is not collected, in a sentence.' }),
    howToPay: PrintedLine(300).meta({ description: 'How finished work is paid for, as notices say it.' }),
    howToPayCourses: PrintedLine(300).meta({ description: 'How courses are paid for, as letters say it.' }),
    directions: PrintedLine(300)
      .nullable()
      .default(null)
      .meta({ description: 'How to find the studio, as letters say it; null where the address is enough.' }),
    dayBefore: z.enum(['never', 'first', 'each']).default('never').meta({
      description:
        'Whether those who come are written to on the day before: of the first session of a course, or of each.',
    }),
    invoiceLimitMinor: Minor.meta({ description: 'Up to this gross sum a simplified VAT invoice is enough.' }),
    emptySpace: z.enum(EMPTY_SPACES).meta({
      description:
        'Who pays for empty room in a kiln: the studio, the pieces (spread), or the pieces as far as the kiln is usually empty and the studio beyond (usual). GET /unused-room says what each would have meant.',
    }),
    firingTaxRateId: Id,
    paperSize: z.enum(PAPER_SIZES).default('A4').meta({
      description: 'The sheet that papers are printed on; small papers are half of it: A5, or half Letter.',
    }),
  })
  .superRefine(({ companyNumber, registeredIn, legalAddress }, context) => {
    const need = (path: string, message: string) => context.addIssue({ code: 'custom', path: [path], message });
    if (companyNumber === null && registeredIn !== null)
      need('companyNumber', 'give the company’s number, or leave out where it is registered');
    if (companyNumber !== null && registeredIn === null)
      need('registeredIn', 'say where the company is registered, for example England and Wales');
    if (companyNumber !== null && legalAddress === null) need('legalAddress', 'give the company’s registered office');
  })
  .meta({ id: 'Studio' });
export type Studio = z.output<typeof Studio>;

export const NewTaxRate = z
  .strictObject({
    name: SingleLine(80),
    kind: z.enum(['standard', 'exempt', 'outside']),
    percent: DecimalText.refine((p) => Number(p) < 100, 'must be below 100').nullable(),
  })
  .refine((rate) => (rate.kind === 'standard') === (rate.percent !== null), {
    path: ['percent'],
    error: 'must be given for a standard rate, and null for an exempt or outside one',
  })
  .meta({ id: 'NewTaxRate' });
export type NewTaxRate = z.output<typeof NewTaxRate>;
export const TaxRate = z.object({ id: Id, ...NewTaxRate.shape }).meta({ id: 'TaxRate' });
export type TaxRate = z.output<typeof TaxRate>;

export const RefundTier = z.strictObject({ daysBefore: z.int().min(0).max(3650), refundPercent: Percent });

/** Whoever cancels earlier gets back at least as much. */
const isFair = (tiers: z.output<typeof RefundTier>[]) => {
  const earliestFirst = [...tiers].sort((a, b) => b.daysBefore - a.daysBefore).map((t) => Number(t.refundPercent));
  return earliestFirst.every((percent, i) => i === 0 || percent <= (earliestFirst[i - 1] ?? 0));
};

export const NewRefundPolicy = z
  .strictObject({
    name: SingleLine(80),
    refilledFeeMinor: Minor.meta({ description: 'What is kept when the place is filled again.' }),
    tiers: z
      .array(RefundTier)
      .min(1)
      .max(20)
      .refine(isFair, 'must not give less for earlier notice')
      .refine(
        (tiers) => new Set(tiers.map((t) => t.daysBefore)).size === tiers.length,
        'must not name a number of days twice',
      ),
  })
  .meta({ id: 'NewRefundPolicy' });
export type NewRefundPolicy = z.output<typeof NewRefundPolicy>;
export const RefundPolicy = z.object({ id: Id, ...NewRefundPolicy.shape }).meta({ id: 'RefundPolicy' });
export type RefundPolicy = z.output<typeof RefundPolicy>;

export const NewRoom = z
  .strictObject({ name: SingleLine(80), benches: z.int().min(1).max(200) })
  .meta({ id: 'NewRoom' });
export type NewRoom = z.output<typeof NewRoom>;
export const Room = z.object({ id: Id, ...NewRoom.shape }).meta({ id: 'Room' });
export type Room = z.output<typeof Room>;

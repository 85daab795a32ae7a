import type { CollectionContent } from '../../src/documents/collection-content.js';
import type { CreditNoteContent } from '../../src/documents/credit-note-content.js';
import type { ReceiptContent } from '../../src/documents/receipt-content.js';
import { VESSEL_SHAPES } from '../../src/trade/materials/vessel-shapes.js';

const studio = {
  name: 'Alder Lane Pottery',
  addressLines: ['7 Alder Lane', 'Ostlemere'],
  email: 'bench@alderlane.example',
  phone: '01632 960 118',
};
export const registered = { ...studio, vatNumber: 'GB 999 9999 73' };
const head = { studio, currency: 'GBP', locale: 'en-GB', language: 'en' as const };

const untaxed = (description: string, grossMinor: number) => ({
  description,
  quantity: 1,
  grossMinor,
  taxLabel: 'outside the scope of VAT',
  vatPercent: null,
  vatMinor: 0,
  netMinor: grossMinor,
});

type Line = ReceiptContent['lines'][number];
/** A line of a receipt that pays all of what it is for. */
const paidLine = (line: Omit<Line, 'taxPoint' | 'priceNetMinor'>): Line => ({
  ...line,
  taxPoint: line.vatPercent === null ? null : '2026-03-11',
  priceNetMinor: line.netMinor,
});

export const plainReceipt: Extract<ReceiptContent, { kind: 'receipt' }> = {
  ...head,
  kind: 'receipt',
  number: 'R-000123',
  issuedOn: '2026-03-12',
  receivedOn: '2026-03-11',
  payer: { name: 'Ines Duval', addressLines: [] },
  method: 'card',
  lines: [untaxed('Lidded jars, deposit', 6000), untaxed('Bisque firing 22, 5.0 l', 623)].map(paidLine),
  totalMinor: 6623,
  supplies: [
    {
      description: 'Lidded jars, six evenings',
      priceMinor: 24_000,
      paidBeforeMinor: 1500,
      paidNowMinor: 6000,
      stillToPayMinor: 16_500,
      payBy: '2026-04-02',
    },
  ],
};

// 120.00 with 20.00 of VAT at 20 % is HMRC's own example (hmrc.gov.uk/vat/forms-rates/rates/calculating.htm)
const course120 = {
  description: 'Glazing day, one place',
  quantity: 1,
  grossMinor: 12_000,
  taxLabel: 'standard',
  vatPercent: '20',
  vatMinor: 2000,
  netMinor: 10_000,
};
// 80.00 at 5 % holds 3.81 (accountingservicesforbusiness.co.uk)
const kit80 = {
  ...course120,
  description: 'Clay kits',
  quantity: 3,
  grossMinor: 8000,
  vatPercent: '5',
  vatMinor: 381,
  netMinor: 7619,
};

export const simplifiedReceipt: Extract<ReceiptContent, { kind: 'vat-simplified' }> = {
  ...plainReceipt,
  studio: registered,
  kind: 'vat-simplified',
  number: 'R-000124',
  lines: [course120, kit80].map(paidLine),
  totalMinor: 20_000,
  supplies: [],
  simplifiedLimitMinor: 25_000,
};

export const fullReceipt: Extract<ReceiptContent, { kind: 'vat-full' }> = {
  ...plainReceipt,
  studio: registered,
  kind: 'vat-full',
  number: 'R-000125',
  payer: { name: 'Tomas Reyl', addressLines: ['14 Mill Row', 'Upper Ostlemere'] },
  method: 'transfer',
  lines: [course120, kit80, { ...untaxed('Tuition, one morning', 4500), taxLabel: 'exempt' }].map(paidLine),
  totalMinor: 24_500,
  supplies: [],
};

export const creditNote: CreditNoteContent = {
  ...head,
  studio: registered,
  kind: 'vat-full',
  number: 'C-000004',
  issuedOn: '2026-03-20',
  corrects: [{ number: 'R-000125', issuedOn: '2026-03-12' }],
  customer: fullReceipt.payer,
  reason: 'One of the group is ill.',
  settlement: { how: 'paid-back', method: 'transfer', on: '2026-03-20' },
  lines: [course120],
  totalMinor: 12_000,
};

type Piece = CollectionContent['pieces'][number];
export const decorative = { kind: 'decorative' } as const;
export const statement = {
  kind: 'statement',
  quote: 'Free of lead and cadmium; fired to cone 6 it is sold for ware that is used with food.',
  glaze: 'Moss satin',
  on: '2025-11-03',
} as const;
export const laboratory = {
  kind: 'laboratory',
  laboratory: 'Marsh and Tiller Laboratories',
  report: 'MT-2291',
  on: '2026-02-19',
  finding: 'lead below 0.1 mg/l and cadmium below 0.01 mg/l.',
} as const;

export const piece = (code: string, more: Partial<Piece> = {}): Piece => ({
  code,
  description: 'Mug, tin white',
  form: 'mug',
  widthMm: 120,
  heightMm: 95,
  sizeBasis: 'measured',
  firing: 'glaze firing 15',
  firedOn: '2026-03-05',
  use: decorative,
  ...more,
});

export const notice: CollectionContent = {
  ...head,
  writtenOn: '2026-03-12',
  maker: { name: 'Halina Brzoska' },
  pieces: [
    piece('4K7', { use: statement }),
    piece('4M2', { description: 'Bowl, iron glaze', form: 'bowl', widthMm: 190, heightMm: 85, use: laboratory }),
    piece('4P3', {
      description: 'Bottle with gold lustre',
      form: 'bottle',
      widthMm: 90,
      heightMm: 190,
      sizeBasis: 'assumed',
    }),
  ],
  collectBy: '2026-04-02',
  where: ['The shelf by the door'],
  when: ['Tuesday to Friday, 10:00 to 18:00'],
  afterThat: 'After that we keep it in store for £2.00 a week.',
  firingFees: [
    { description: 'Glaze firing 15, your share', amountMinor: 888 },
    { description: 'Lustre firing 3, one bottle', amountMinor: 350 },
  ],
  otherOwed: [{ description: 'Lidded jars, second half', amountMinor: 12_000 }],
  howToPay: 'Pay by card or in cash when you collect.',
};

export const manyPieces = (count: number): Piece[] =>
  Array.from({ length: count }, (_, i) =>
    piece(`5${String(i).padStart(2, '0')}`, {
      form: VESSEL_SHAPES[i % VESSEL_SHAPES.length] ?? 'mug',
      widthMm: 60 + ((i * 37) % 190),
      heightMm: 12 + ((i * 53) % 200),
      use: [statement, decorative, laboratory][i % 3] ?? decorative,
    }),
  );

/** As long as a name may be, with and without places to break it. */
export const LONG_NAME = 'Maria-Theodora Anastasopoulou-Papadimitriou von und zu Brzeszczykiewicz '.repeat(4).trim();
export const LONG_WORD = 'Konstantinopolitanischedudelsackpfeifergesellenbruderschaftsvorsitzende'.repeat(4);

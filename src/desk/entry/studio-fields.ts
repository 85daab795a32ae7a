import type { Schemas } from '../client';

type Studio = Schemas['Studio'];

/** How a field is typed: money in major units, lines one under another, or as it stands. */
type Kind = 'text' | 'optional' | 'lines' | 'money' | 'whole' | 'decimal';
export type StudioField = { name: keyof Studio; label: string; kind: Kind; value: string; hint?: string };

/** What a new studio must say of itself, with what is usual already filled in. */
export const STUDIO_FIELDS: { group: string; fields: StudioField[] }[] = [
  {
    group: 'The studio',
    fields: [
      { name: 'name', label: 'Name', kind: 'text', value: '' },
      { name: 'addressLines', label: 'Address', kind: 'lines', value: '', hint: 'Lines divided by a semicolon.' },
      { name: 'email', label: 'E-mail address', kind: 'optional', value: '' },
      { name: 'phone', label: 'Telephone', kind: 'optional', value: '' },
      {
        name: 'vatNumber',
        label: 'VAT number',
        kind: 'optional',
        value: '',
        hint: 'Empty where you are not registered; then no VAT is shown. Ask an accountant.',
      },
      { name: 'currency', label: 'Currency', kind: 'text', value: 'GBP' },
      { name: 'locale', label: 'How numbers are written', kind: 'text', value: 'en-GB' },
      { name: 'timeZone', label: 'Time zone', kind: 'text', value: Intl.DateTimeFormat().resolvedOptions().timeZone },
    ],
  },
  {
    group: 'What a course must earn',
    fields: [
      {
        name: 'wagePerHourMinor',
        label: 'What your hour is worth',
        kind: 'money',
        value: '20',
        hint: 'Preparing and clearing count too.',
      },
      { name: 'overheadPerHourMinor', label: 'Room, heating and light, an hour', kind: 'money', value: '6' },
      {
        name: 'payFloorPerHourMinor',
        label: 'A course that pays you less an hour is a poor one',
        kind: 'money',
        value: '12',
      },
      {
        name: 'poorAtMost',
        label: 'How likely a poor one may be',
        kind: 'decimal',
        value: '0.1',
        hint: '0.1 is one in ten.',
      },
      { name: 'targetSurplusMinor', label: 'What a course should leave beyond all wages', kind: 'money', value: '50' },
      { name: 'priceStepMinor', label: 'Prices are rounded up to', kind: 'money', value: '5' },
      { name: 'cardPercent', label: 'Card fee in percent', kind: 'decimal', value: '1.75' },
      { name: 'cardFixedMinor', label: 'Card fee for each payment', kind: 'money', value: '0.20' },
      {
        name: 'enrolmentAlpha',
        label: 'Enrolment, alpha',
        kind: 'decimal',
        value: '6',
        hint: 'Alpha to beta is how full to empty; the larger both, the surer. An assumption until you know better.',
      },
      { name: 'enrolmentBeta', label: 'Enrolment, beta', kind: 'decimal', value: '3' },
    ],
  },
  {
    group: 'Clay, glaze and finished work',
    fields: [
      { name: 'offcutsPercent', label: 'Offcuts, percent of a piece', kind: 'decimal', value: '10' },
      { name: 'remakesPercent', label: 'Made again, percent of pieces', kind: 'decimal', value: '15' },
      { name: 'reclaimedPercent', label: 'Comes back as reclaim, percent', kind: 'decimal', value: '5' },
      { name: 'glazeWastePercent', label: 'Glaze lost, percent', kind: 'decimal', value: '10' },
      { name: 'storageDays', label: 'Days you keep finished work', kind: 'whole', value: '28' },
      { name: 'collectWhere', label: 'Where work is collected', kind: 'lines', value: 'At the studio' },
      { name: 'collectWhen', label: 'When', kind: 'lines', value: 'During opening hours' },
      {
        name: 'afterStorage',
        label: 'What happens to work that stays',
        kind: 'text',
        value: 'What is not collected by then is recycled.',
      },
      { name: 'howToPay', label: 'How people pay', kind: 'text', value: 'By card or in cash when you collect.' },
      { name: 'invoiceLimitMinor', label: 'A simplified VAT invoice is enough up to', kind: 'money', value: '250' },
    ],
  },
];

/** The studio as the API takes it, from what was typed. `digits` are those of the currency's minor unit. */
export function studioFrom(typed: (name: string) => string, digits: number, firingTaxRateId: string): Studio {
  const entries = STUDIO_FIELDS.flatMap(({ fields }) => fields).map(({ name, kind }) => [
    name,
    read(kind, typed(name).trim(), digits),
  ]);
  return { ...Object.fromEntries(entries), emptySpace: 'studio', firingTaxRateId } as Studio;
}

function read(kind: Kind, text: string, digits: number): unknown {
  switch (kind) {
    case 'optional':
      return text === '' ? null : text;
    case 'lines':
      return text
        .split(';')
        .map((line) => line.trim())
        .filter((line) => line !== '');
    case 'whole':
      return Number(text);
    case 'money':
      return minorFrom(text, digits);
    default:
      return text;
  }
}

/** "12.5" as 1250 where the currency has two digits; NaN, which the API refuses by its field, where it is no such amount. */
export function minorFrom(text: string, digits: number): number {
  const [, whole, part = ''] = /^(\d{1,9})(?:[.,](\d*))?$/.exec(text) ?? [];
  if (whole === undefined || part.length > digits) return Number.NaN;
  return Number(whole + part.padEnd(digits, '0'));
}

import type { Schemas } from '../../../api/client';
import { EMPTY_SPACE } from './unused-room';

type Studio = Schemas['Studio'];

/** A studio as it is typed: money in major units, lines one under another, shares in percent. */
export type StudioText = Record<
  | Exclude<keyof Studio, `${string}Minor` | 'poorAtMost' | 'enrolmentAlpha' | 'enrolmentBeta' | 'firingTaxRateId'>
  | MoneyName
  | 'poorPercent'
  | 'fillPercent'
  | 'certainty',
  string
>;
type MoneyName = keyof { [Name in keyof Studio as Name extends `${infer Bare}Minor` ? Bare : never]: 1 };

/** How a field is typed: money in major units, lines one under another, or as it stands. */
export type Kind = 'text' | 'optional' | 'lines' | 'money' | 'whole' | 'decimal' | 'choice';
export type StudioField = {
  name: keyof StudioText;
  label: string;
  kind: Kind;
  hint?: string;
  choices?: readonly (readonly [string, string])[];
};

const PAPER_SIZES: readonly (readonly [Studio['paperSize'], string])[] = [
  ['A4', 'A4 (210 × 297 mm)'],
  ['LETTER', 'Letter (8½ × 11 in)'],
];

/** What a studio says of itself, in the order in which it is asked. */
export const STUDIO_FIELDS: { group: string; fields: StudioField[] }[] = [
  {
    group: 'The studio',
    fields: [
      { name: 'name', label: 'Name', kind: 'text' },
      { name: 'email', label: 'Email address', kind: 'optional' },
      { name: 'addressLines', label: 'Address', kind: 'lines', hint: 'As it is printed on your receipts.' },
      { name: 'phone', label: 'Telephone', kind: 'optional' },
      {
        ...{ name: 'legalName', label: 'Your own name, or the company’s', kind: 'optional' },
        hint: 'Where the studio trades under another name. Papers and emails give it; ask your accountant.',
      },
      {
        ...{ name: 'legalAddress', label: 'Address for service, or registered office', kind: 'optional' },
        hint: 'On one line. Empty where it is the address above; a company gives it in any case.',
      },
      { name: 'companyNumber', label: 'Company number', kind: 'optional', hint: 'Of a company only.' },
      {
        ...{ name: 'registeredIn', label: 'Where the company is registered', kind: 'optional' },
        hint: 'For example, England and Wales.',
      },
      { name: 'directions', label: 'How to find you', kind: 'optional', hint: 'A sentence or two for emails.' },
      {
        ...{ name: 'dayBefore', label: 'Letter on the day before', kind: 'choice' },
        hint: 'To everyone with a confirmed place, from 9:00: when and where, what to wear, what is still to pay.',
        choices: [
          ['never', 'None'],
          ['first', 'Before the first session of a course'],
          ['each', 'Before each session'],
        ],
      },
      { name: 'howToPayCourses', label: 'How people pay for a course', kind: 'text' },
      { name: 'timeZone', label: 'Time zone', kind: 'text', hint: 'For example, Europe/London.' },
      {
        name: 'currency',
        label: 'Currency',
        kind: 'text',
        hint: 'Three letters; for example, GBP. It can’t be changed later.',
      },
      { name: 'locale', label: 'How numbers are written', kind: 'text', hint: 'A language tag; for example, en-GB.' },
    ],
  },
  {
    group: 'What a course must earn',
    fields: [
      { name: 'wagePerHour', label: 'Your hour', kind: 'money', hint: 'Preparing and clearing count too.' },
      { name: 'overheadPerHour', label: 'An hour of the room', kind: 'money', hint: 'Rent, heating and light.' },
      {
        ...{ name: 'surplusPerHour', label: 'Surplus for each hour of teaching', kind: 'money' },
        hint: 'Beyond all of that, on average. For example, 8 asks 60 of a course of 7½ hours.',
      },
      { name: 'priceStep', label: 'Prices are rounded up to', kind: 'money', hint: '5 gives 130, 135, 140.' },
      {
        ...{ name: 'payFloorPerHour', label: 'Lowest hourly pay you’d accept', kind: 'money' },
        hint: 'What it then pays you an hour.',
      },
      {
        name: 'poorPercent',
        label: 'How often below that is OK, %',
        kind: 'decimal',
        hint: '10 is 1 chance in 10.',
      },
      {
        ...{ name: 'fillPercent', label: 'Places that are booked, percent', kind: 'decimal' },
        hint: 'On average. An assumption until you know.',
      },
      {
        ...{ name: 'certainty', label: 'How sure you are, as if after so many places', kind: 'decimal' },
        hint: 'A guess: 5 to 10. A year of records: 50.',
      },
      { name: 'cardPercent', label: 'Card fee, percent', kind: 'decimal' },
      { name: 'cardFixed', label: 'Card fee for each payment', kind: 'money' },
    ],
  },
  {
    group: 'Clay, glaze and kiln',
    fields: [
      { name: 'offcutsPercent', label: 'Offcuts, percent of a piece', kind: 'decimal' },
      { name: 'remakesPercent', label: 'Remakes, % of pieces', kind: 'decimal' },
      { name: 'reclaimedPercent', label: 'Comes back as reclaim, percent', kind: 'decimal' },
      { name: 'glazeWastePercent', label: 'Glaze lost, percent', kind: 'decimal' },
      {
        ...{ name: 'emptySpace', label: 'Who pays for empty space in a kiln', kind: 'choice' },
        hint: 'At the usual fill, makers pay as if the kiln were as full as it usually is; you pay for any extra empty space.',
        choices: EMPTY_SPACE,
      },
    ],
  },
  {
    group: 'Finished work',
    fields: [
      { name: 'storageDays', label: 'Days finished work is kept', kind: 'whole' },
      { name: 'afterStorage', label: 'What happens to it then', kind: 'text' },
      { name: 'collectWhere', label: 'Where it is collected', kind: 'lines' },
      { name: 'collectWhen', label: 'When', kind: 'lines' },
      { name: 'howToPay', label: 'How people pay for it', kind: 'text' },
    ],
  },
  {
    group: 'Papers',
    fields: [
      {
        ...{ name: 'paperSize', label: 'Paper size', kind: 'choice', choices: PAPER_SIZES },
        hint: 'Receipts and other small papers are half a sheet.',
      },
    ],
  },
  {
    group: 'Tax',
    fields: [
      { name: 'vatNumber', label: 'VAT number', kind: 'optional', hint: 'Empty where you are not registered.' },
      {
        ...{ name: 'inputVatPercent', label: 'VAT in what you buy, percent', kind: 'decimal' },
        hint: 'You enter costs without it; where you sell exempt, it is a cost. 0 where you are not registered.',
      },
      { name: 'invoiceLimit', label: 'Simplified VAT invoice up to', kind: 'money' },
    ],
  },
];

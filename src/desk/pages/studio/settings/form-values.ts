import { Decimal } from '../../../../trade/money/money.js';
import { parseMoney } from '../../../../trade/text/parse-input.js';
import type { Schemas } from '../../../api/client';
import { STUDIO_FIELDS, type StudioText } from './studio-fields';

type Studio = Schemas['Studio'];

/** What is usual, for a studio that has said nothing yet. */
export const USUAL: StudioText = {
  ...{ name: '', addressLines: '', email: '', phone: '', vatNumber: '' },
  ...{ legalName: '', legalAddress: '', companyNumber: '', registeredIn: '' },
  ...{ currency: 'GBP', locale: 'en-GB', timeZone: 'Europe/London' },
  ...{ wagePerHour: '20', overheadPerHour: '6', payFloorPerHour: '12', poorPercent: '10', surplusPerHour: '7' },
  ...{ priceStep: '5', cardPercent: '1.75', cardFixed: '0.20', fillPercent: '70', certainty: '10' },
  ...{
    offcutsPercent: '10',
    remakesPercent: '15',
    reclaimedPercent: '5',
    glazeWastePercent: '10',
    inputVatPercent: '0',
  },
  ...{
    howToPayCourses: 'Please pay by bank transfer, or by card or in cash at the studio.',
    directions: '',
    dayBefore: 'first',
  },
  ...{ storageDays: '28', collectWhere: 'At the studio', collectWhen: 'During opening hours' },
  afterStorage: 'Anything left after that is recycled.',
  ...{
    howToPay: 'Please pay by card or in cash when you collect.',
    invoiceLimit: '250',
    emptySpace: 'studio',
    paperSize: 'A4',
  },
};

const DECIMALS = 6;
const short = (exact: Decimal) => exact.toDecimalPlaces(DECIMALS).toFixed();

/** `digits` are those of the currency's minor unit. */
export function textOf(studio: Studio, digits: number): StudioText {
  const certainty = new Decimal(studio.enrolmentAlpha).plus(studio.enrolmentBeta);
  const derived: Partial<StudioText> = {
    poorPercent: short(new Decimal(studio.poorAtMost).times(100)),
    fillPercent: short(new Decimal(studio.enrolmentAlpha).times(100).div(certainty)),
    certainty: certainty.toFixed(),
  };
  const plain = new Map(Object.entries(studio));
  const entries = STUDIO_FIELDS.flatMap(({ fields }) => fields).map(({ name, kind }) => {
    const known = plain.get(kind === 'money' ? `${name}Minor` : name);
    if (kind === 'money') return [name, new Decimal(Number(known)).div(new Decimal(10).pow(digits)).toFixed(digits)];
    return [name, derived[name] ?? (Array.isArray(known) ? known.join('\n') : String(known ?? ''))];
  });
  return Object.fromEntries(entries);
}

/** A field in which a form says something else than what has been saved. */
export type Difference = { label: string; saved: string };

/** How amounts are written does not count: 20 and 20.00 are the same. */
export function differences(typed: StudioText, saved: StudioText): Difference[] {
  const plain = (text: string) => {
    const line = text.replaceAll('\r\n', '\n').trim();
    return /^\d+([.,]\d+)?$/.test(line) ? String(Number(line.replace(',', '.'))) : line;
  };
  return STUDIO_FIELDS.flatMap(({ fields }) => fields)
    .filter(({ name }) => plain(typed[name]) !== plain(saved[name]))
    .map(({ name, label }) => ({ label, saved: saved[name].split('\n').join(', ') }));
}

/** The amounts that can't be read, each by its field as the API names it, with what to write. */
export function amountFaults(typed: StudioText): { pointer: string; detail: string }[] {
  return STUDIO_FIELDS.flatMap(({ fields }) => fields).flatMap(({ name, kind }) => {
    if (kind !== 'money') return [];
    try {
      parseMoney(typed[name], currencyOf(typed));
      return [];
    } catch (error) {
      return [{ pointer: `#/${name}Minor`, detail: (error as Error).message }];
    }
  });
}

/** The studio as the API takes it. What is not a figure becomes what the API refuses by its field. */
export function studioOf(typed: StudioText, firingTaxRateId: string): Studio {
  const entries = STUDIO_FIELDS.flatMap(({ fields }) => fields).map(({ name, kind }) => {
    const text = typed[name].trim();
    switch (kind) {
      case 'money':
        return [`${name}Minor`, minorFrom(text, currencyOf(typed))];
      case 'optional':
        return [name, text === '' ? null : text];
      case 'lines':
        return [name, text.split('\n').flatMap((line) => line.trim() || [])];
      case 'whole':
        return [name, Number(text)];
      default:
        return [name, text];
    }
  });
  const { fillPercent, certainty, poorPercent, ...rest } = Object.fromEntries(entries);
  return { ...rest, ...chances({ fillPercent, certainty, poorPercent }), firingTaxRateId };
}

type Chances = Pick<StudioText, 'fillPercent' | 'certainty' | 'poorPercent'>;

function chances({ fillPercent, certainty, poorPercent }: Chances) {
  const sure = decimalFrom(certainty);
  const alpha = sure.times(decimalFrom(fillPercent)).div(100);
  return {
    enrolmentAlpha: short(alpha),
    enrolmentBeta: short(sure.minus(short(alpha))),
    poorAtMost: short(decimalFrom(poorPercent).div(100)),
  };
}

const decimalFrom = (text: string) =>
  new Decimal(/^\d{1,9}([.,]\d+)?$/.test(text) ? text.replace(',', '.') : Number.NaN);

function minorFrom(text: string, currency: string): number {
  try {
    return parseMoney(text, currency);
  } catch {
    return Number.NaN;
  }
}

/** The currency as it is typed. While it is none, amounts are read as in the usual one: the server says what is wrong with it. */
const currencyOf = ({ currency }: StudioText): string =>
  Intl.supportedValuesOf('currency').includes(currency.trim()) ? currency.trim() : USUAL.currency;

/** Which field a refusal is about: the API's names are not always those of the form. */
export function fieldOf(pointer: string): string {
  const [name = ''] = pointer.replace(/^#\//, '').split('/');
  const derived: Record<string, string> = {
    ...{ enrolmentAlpha: 'fillPercent', enrolmentBeta: 'fillPercent', poorAtMost: 'poorPercent' },
    firingTaxRateId: 'tax',
  };
  return derived[name] ?? name.replace(/Minor$/, '');
}

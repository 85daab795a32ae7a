import { remember } from '../maths/remember.js';

const FORMATTERS_MAX = 200; // a studio uses a dozen

const numberFormats = remember<Intl.NumberFormat>(FORMATTERS_MAX);
const dateFormats = remember<Intl.DateTimeFormat>(FORMATTERS_MAX);

/** A formatter as `new` makes it, kept: making one takes a hundred times as long as writing with it. @throws RangeError as `new` does */
export const numberFormat = (locale: string, options?: Intl.NumberFormatOptions): Intl.NumberFormat =>
  numberFormats(JSON.stringify([locale, options]), () => new Intl.NumberFormat(locale, options));

/** The same for days. */
export const dateFormat = (locale: string, options?: Intl.DateTimeFormatOptions): Intl.DateTimeFormat =>
  dateFormats(JSON.stringify([locale, options]), () => new Intl.DateTimeFormat(locale, options));

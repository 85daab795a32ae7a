import { parseDecimal, parseMoney, parseQuantity } from '../../trade/text/parse-input.js';

/** What is wrong with a field, named as the API names it: "#/sessions/0/minutes". */
export type FieldFault = { pointer: string; detail: string };

type Range = { minimum?: number; maximum?: number };

const NO_LIMIT = (): Range => ({});

/** Reads what is typed, and remembers by its field what can't be read, or is more or less than the API allows. */
export function reader(currency: string, limitOf: (pointer: string) => Range = NO_LIMIT) {
  const faults: FieldFault[] = [];
  const wrong = (pointer: string, detail: string) => void faults.push({ pointer: `#${pointer}`, detail });
  /** A number that can't be read is 0 where nothing is sent anyway. */
  const tried = <T>(pointer: string, read: () => T, instead: T): T => {
    try {
      return read();
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      wrong(pointer, error.message);
      return instead;
    }
  };
  return {
    faults,
    wrong,
    text: (pointer: string, typed: string) => {
      if (typed.trim() === '') wrong(pointer, 'Fill this in.');
      return typed.trim();
    },
    chosen: (pointer: string, id: string) => {
      if (id === '') wrong(pointer, 'Choose one.');
      return id;
    },
    whole: (pointer: string, typed: string) => {
      const range = rangeInWords(limitOf(`#${pointer}`));
      const number = /^\d{1,7}$/.test(typed.trim()) ? Number(typed) : null;
      if (number === null) wrong(pointer, `Write a whole number${range || ', for example 12'}.`);
      else if (isOutside(number, limitOf(`#${pointer}`))) wrong(pointer, `Write a whole number${range}.`);
      return number ?? 0;
    },
    decimal: (pointer: string, typed: string) => tried(pointer, () => parseDecimal(typed), '0'),
    quantity: (pointer: string, typed: string, unit: 'g' | 'ml' | 'piece') =>
      tried(pointer, () => parseQuantity(typed, unit), 0),
    money: (pointer: string, typed: string) => tried(pointer, () => parseMoney(typed, currency), 0),
  };
}

const isOutside = (number: number, { minimum = -Infinity, maximum = Infinity }: Range) =>
  number < minimum || number > maximum;

function rangeInWords({ minimum, maximum }: Range): string {
  if (minimum !== undefined && maximum !== undefined) return ` from ${minimum} to ${maximum}`;
  if (maximum !== undefined) return ` of at most ${maximum}`;
  return minimum === undefined ? '' : ` of at least ${minimum}`;
}

export type Reader = ReturnType<typeof reader>;

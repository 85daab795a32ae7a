import { parseDecimal, parseMoney, parseQuantity } from '../../trade/text/parse-input.js';

/** What is wrong with a field, named as the API names it: "#/sessions/0/minutes". */
export type FieldFault = { pointer: string; detail: string };

/** Reads what is typed, and remembers by its field what can't be read. */
export function reader(currency: string) {
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
      if (/^\d{1,7}$/.test(typed.trim())) return Number(typed);
      wrong(pointer, 'Write a whole number, such as 12.');
      return 0;
    },
    decimal: (pointer: string, typed: string) => tried(pointer, () => parseDecimal(typed), '0'),
    quantity: (pointer: string, typed: string, unit: 'g' | 'ml' | 'piece') =>
      tried(pointer, () => parseQuantity(typed, unit), 0),
    money: (pointer: string, typed: string) => tried(pointer, () => parseMoney(typed, currency), 0),
  };
}
export type Reader = ReturnType<typeof reader>;

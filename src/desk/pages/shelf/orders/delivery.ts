import { Decimal, majorUnits, roundHalfUp } from '../../../../trade/money/money.js';
import { parseMoney, parseQuantity } from '../../../../trade/text/parse-input.js';
import type { Schemas } from '../../../api/client';
import { plainQuantity } from '../../../format/quantity';
import type { Order } from './queries';

type Unit = Order['lines'][number]['unit'];

/** One material of a delivery as somebody types it. */
export type Typed = { materialId: string; name: string; unit: Unit; quantity: string; cost: string };
export type Lot = Schemas['Arrived']['lots'][number];

/** What has not come yet, at the price of the order: as a delivery usually is. */
export function usualArrival({ lines, arrivals }: Order, currency: string): Typed[] {
  return arrivals.flatMap(({ materialId, ordered, received }) => {
    const same = lines.filter((line) => line.materialId === materialId);
    const [first] = same;
    const open = ordered - received;
    if (!first || open <= 0) return [];
    const { name, unit } = first;
    const whole = same.reduce((sum, { amountMinor }) => sum + amountMinor, 0);
    const costMinor = roundHalfUp(new Decimal(whole).times(open).div(ordered));
    return [{ materialId, name, unit, quantity: plainQuantity(open, unit), cost: majorUnits(costMinor, currency) }];
  });
}

/** What can't be read in a line, by its field. */
export type LineFaults = Partial<Record<'quantity' | 'cost', string>>;

/** The lots of a delivery; what is left empty or is nothing did not come. Faults are told by material. */
export function lotsOf(typed: readonly Typed[], currency: string): { lots: Lot[]; faults: Record<string, LineFaults> } {
  const [lots, faults]: [Lot[], Record<string, LineFaults>] = [[], {}];
  for (const { materialId, unit, quantity, cost } of typed) {
    const tried = (field: keyof LineFaults, read: () => number): number => {
      try {
        return read();
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        faults[materialId] = { ...faults[materialId], [field]: error.message };
        return 0;
      }
    };
    const came = quantity.trim() === '' ? 0 : tried('quantity', () => parseQuantity(quantity, unit));
    if (came > 0) lots.push({ materialId, quantity: came, costMinor: tried('cost', () => parseMoney(cost, currency)) });
  }
  return { lots, faults };
}

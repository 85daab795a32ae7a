import { type BaseUnit, saleMinor } from '../../../../trade/money/sale-units.js';
import { vatInside } from '../../../../trade/money/tax.js';
import { parseMoney, parseQuantity } from '../../../../trade/text/parse-input.js';
import type { Schemas } from '../../../api/client';
import { amountTyped } from '../../../forms/amount';
import type { Material, Sale, TaxRate } from './queries';

/** What is typed of a sale. */
export type Typed = { personId: string; materialId: string; quantity: string; price: string; taxRateId: string };
export type Faults = Partial<Record<keyof Typed, string>>;

/** What people take home most, one press each. */
export const QUICK: Record<BaseUnit, readonly string[]> = {
  g: ['1 kg', '2 kg', '5 kg'],
  ml: ['100 ml', '250 ml', '500 ml'],
  piece: ['1', '2', '3'],
};

type Priced = { quantity: number; priceMinor: number; grossMinor: number; vatMinor: number };

/** The price of what is typed, with the VAT inside it; null while something is missing or wrong. */
export function priced(
  typed: Typed,
  material: Pick<Material, 'unit'> | undefined,
  rate: Pick<TaxRate, 'kind' | 'percent'> | undefined,
  at: { currency: string; isRegistered: boolean },
): Priced | null {
  const priceMinor = amountTyped(typed.price, at.currency);
  if (!material || priceMinor === null) return null;
  try {
    const quantity = parseQuantity(typed.quantity, material.unit);
    const grossMinor = saleMinor(quantity, material.unit, priceMinor);
    const vatMinor =
      at.isRegistered && rate?.kind === 'standard' && rate.percent !== null
        ? vatInside(grossMinor, { kind: 'standard', percent: rate.percent })
        : 0;
    return { quantity, priceMinor, grossMinor, vatMinor };
  } catch {
    return null;
  }
}

/** The sale as the API takes it, or what stands in its way. */
export function saleOf(
  typed: Typed,
  material: Pick<Material, 'unit'> | undefined,
  currency: string,
): { body: Omit<Schemas['NewSale'], 'note'> } | { faults: Faults } {
  const { personId, materialId, taxRateId } = typed;
  const faults: Faults = {};
  let [quantity, priceMinor] = [0, 0];
  if (!personId) faults.personId = 'Choose who takes it home.';
  if (!material) faults.materialId = 'Choose what is taken home.';
  if (!taxRateId) faults.taxRateId = 'Choose how it is taxed.';
  try {
    if (material) quantity = parseQuantity(typed.quantity, material.unit);
    if (material && quantity === 0) faults.quantity = 'Write how much it is: more than zero.';
  } catch (error) {
    faults.quantity = typed.quantity.trim() === '' ? 'Write how much it is.' : (error as Error).message;
  }
  try {
    priceMinor = parseMoney(typed.price, currency, 1);
  } catch (error) {
    faults.price = (error as Error).message;
  }
  return Object.keys(faults).length > 0
    ? { faults }
    : { body: { personId, materialId, quantity, priceMinor, taxRateId } };
}

/** What happens to the money where so much of a sale comes back: no longer asked for, and going back. */
export function creditOf(
  { unit, priceMinor, keptQuantity, owedMinor }: Pick<Sale, 'unit' | 'priceMinor' | 'keptQuantity' | 'owedMinor'>,
  quantity: number,
): { unpaidMinor: number; refundMinor: number } {
  const amountMinor = saleMinor(keptQuantity, unit, priceMinor) - saleMinor(keptQuantity - quantity, unit, priceMinor);
  const unpaidMinor = Math.min(amountMinor, owedMinor);
  return { unpaidMinor, refundMinor: amountMinor - unpaidMinor };
}

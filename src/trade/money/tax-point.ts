/**
 * The tax point of what is paid: the day whose VAT return it counts in. It is the day of the supply (when goods were taken away or a
 * service was done; VATA 1994 s6(2) and (3), from memory), and where something is paid before that, the day of the payment, for
 * as much as was paid (s6(4)). The books post VAT by it and papers print it. See docs/decisions/022-tax-points.md on invoices.
 *
 * @param suppliedOn YYYY-MM-DD; null while it is still to come
 * @param paidOn     YYYY-MM-DD
 */
export function taxPoint(suppliedOn: string | null, paidOn: string): string {
  return suppliedOn !== null && suppliedOn < paidOn ? suppliedOn : paidOn;
}

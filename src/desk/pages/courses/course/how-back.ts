import { REFUND_METHODS, type RefundMethod } from '../../../actions/refund-methods';
import { type Formatter, listed } from '../../../format/formatter';

/** How the money of several people goes back. */
export const METHODS = [['asPaid', 'To each as they paid'], ...REFUND_METHODS] as const;

const WAYS: Record<RefundMethod, string> = { transfer: 'by transfer', card: 'to the card', cash: 'in cash' };

type Back = { method: RefundMethod | null; refundMinor: number; onVoucherMinor: number };

/** "in cash", "on the voucher", "in cash and £50 on the voucher" */
export function howBack({ method, refundMinor, onVoucherMinor }: Back, { moneyInText }: Formatter): string {
  const money = method === null ? [] : [WAYS[method]];
  if (onVoucherMinor === 0) return listed(money);
  const isAll = refundMinor === onVoucherMinor;
  return listed([...money, isAll ? 'on the voucher' : `${moneyInText(onVoucherMinor)} on the voucher`]);
}

import { once, type Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import type { RefundPolicy } from '../settings/contract.js';
import { POLICY_INCLUDE, rememberTaxRates, showRefundPolicy } from '../settings/service.js';
import type { Plan } from './plan-contract.js';

/** What a place of a course is sold under: what of its price bears which VAT, and what goes back to whoever cancels. */
export type TermsOfSale = { plan: Pick<Plan, 'name' | 'parts' | 'restLabel'>; refundPolicy: RefundPolicy };

/** Read in one statement, and once in a transaction; the tax rates of the parts are known then too. */
export const getTermsOfSale = (tx: Transaction, courseId: string): Promise<TermsOfSale> =>
  once(tx, `terms of sale ${courseId}`, () => readTermsOfSale(tx, courseId));

async function readTermsOfSale(tx: Transaction, courseId: string): Promise<TermsOfSale> {
  const { refundPolicy, plan } = await tx.course.findUniqueOrThrow({
    where: { id: courseId },
    select: {
      refundPolicy: { include: POLICY_INCLUDE },
      plan: {
        select: { name: true, restLabel: true, planParts: { include: { taxRate: true }, orderBy: { ordinal: 'asc' } } },
      },
    },
  });
  rememberTaxRates(
    tx,
    plan.planParts.map(({ taxRate }) => taxRate),
  );
  return {
    refundPolicy: showRefundPolicy(refundPolicy),
    plan: {
      ...{ name: plan.name, restLabel: plan.restLabel },
      parts: plan.planParts.map(({ label, taxRateId, amountMinor, sharePercent }) => ({
        ...{ label, taxRateId, amountMinor },
        sharePercent: sharePercent && fromDecimal(sharePercent),
      })),
    },
  };
}

import { moneyInText } from '../../documents/words.js';
import type { Visit } from '../../mail/templates/visit.js';
import { formatPercent } from '../../trade/text/format.js';
import type { RefundPolicy, Studio } from '../settings/contract.js';

/** A refund policy as letters say it: a line for each tier, the earliest first, and what becomes of a place that is filled again. */
export function getRefundTerms(policy: RefundPolicy, studio: Studio): Visit['refundTerms'] {
  const tiers = policy.tiers
    .filter(({ refundPercent }) => Number(refundPercent) > 0)
    .sort((a, b) => b.daysBefore - a.daysBefore)
    .map(({ daysBefore, refundPercent }) => `${noticeOf(daysBefore)}: ${partOf(refundPercent, studio.locale)}`);
  const last = policy.tiers.some(({ daysBefore, refundPercent }) => daysBefore === 0 && Number(refundPercent) > 0);
  return {
    tiers: [...tiers, ...(last ? [] : ['later than that: nothing'])],
    filledAgain: filledAgainTerm(policy, studio),
  };
}

/** What somebody gets back whose place is filled again, as letters say it. */
export function filledAgainTerm({ refilledFeeMinor }: RefundPolicy, studio: Studio): string {
  const but = refilledFeeMinor === 0 ? '' : ` but ${moneyInText(studio)(refilledFeeMinor)}`;
  return `If your place is filled again, or the course is full when it starts, we refund all of it${but}.`;
}

const noticeOf = (days: number) =>
  days === 0 ? 'any time before the start' : `at least ${days} ${days === 1 ? 'day' : 'days'} before the start`;

const partOf = (percent: string, locale: string) =>
  Number(percent) === 100 ? 'all that you have paid' : `${formatPercent(percent, locale)} of what you have paid`;

import { amountMinor, Decimal } from '../../../../trade/money/money.js';

/** What a second tutor's fee is typed for; a plan keeps it for the whole course. */
export type FeePer = 'course' | 'hour' | 'session';

export const FEES: readonly (readonly [FeePer, string])[] = [
  ['course', 'the whole course'],
  ['hour', 'an hour'],
  ['session', 'a session'],
];

type Fee = { secondPer?: FeePer | undefined; sessions: readonly { minutes: string }[] };

/** Minutes in all sessions, of those that can be read. */
export const minutesIn = ({ sessions }: Pick<Fee, 'sessions'>): number =>
  sessions.reduce((all, { minutes }) => all + (/^\d{1,5}$/.test(minutes.trim()) ? Number(minutes) : 0), 0);

/** What is paid for the whole course, in whole minor units. */
export function feeOf(fee: Fee, typedMinor: number): number {
  if (fee.secondPer === 'session') return typedMinor * fee.sessions.length;
  if (fee.secondPer !== 'hour') return typedMinor;
  return amountMinor(new Decimal(minutesIn(fee)).div(60).toString(), String(typedMinor));
}

import { z } from 'zod';
import { type Correspondents, indented, type Letter, letterText, sentenceOf } from './letter.js';

const Charged = z.object({
  month: z.string(),
  amount: z.string(),
  /** how it was worked out; null where it is the whole fee */
  how: z.string().nullable(),
});

export const MembershipStartedData = z.object({
  kind: z.string(),
  startsOn: z.string(),
  fee: z.string(),
  /** what the first month comes to, where not all of it counts */
  first: Charged.nullable(),
  included: z.array(z.string()),
  notice: z.string(),
  pause: z.string(),
  howToPay: z.string(),
});

export const MembershipChargedData = z.object({
  kind: z.string(),
  months: z.array(Charged).min(1),
  howToPay: z.string(),
});

export const MembershipFeeData = z.object({
  kind: z.string(),
  from: z.string(),
  before: z.string(),
  fee: z.string(),
  notice: z.string(),
  lastDayIfNow: z.string(),
});

export const MembershipPausedData = z.object({
  kind: z.string(),
  from: z.string(),
  to: z.string(),
  rate: z.string(),
  credited: z.string().nullable(),
});

export const MembershipEndsData = z.object({
  kind: z.string(),
  lastDay: z.string(),
  reason: z.string().nullable(),
  credited: z.string().nullable(),
  shelf: z.string().nullable(),
});

export const MembershipGoesOnData = z.object({
  kind: z.string(),
  fee: z.string(),
  what: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('noticeTakenBack') }),
    z.object({ kind: z.literal('pauseEnds'), to: z.string() }),
    z.object({ kind: z.literal('noPause') }),
  ]),
});

/** Says what somebody agreed who becomes a member. */
export function membershipStartedLetter(data: z.output<typeof MembershipStartedData>, to: Correspondents): Letter {
  const { kind, startsOn, fee, first, included, notice, pause, howToPay } = data;
  return letterText(to, `Your membership: ${kind}`, [
    `Welcome. Your membership, ${kind}, starts on ${startsOn}.`,
    `It costs ${fee} a month, charged on the first day of each month.${first ? ` For ${first.month} that is ${first.amount} (${first.how}).` : ''}`,
    included.length === 0 ? null : `Each month includes:\n${indented(included)}`,
    included.length === 0
      ? null
      : 'What you don’t use in a month is not carried over. Beyond it you pay our usual prices.',
    `How to pay: ${sentenceOf(howToPay)}`,
    `${notice} If you need a pause, ask us: while it is paused you pay ${pause}, and nothing is included.`,
  ]);
}

/** Says what was charged for a month, or for several where the program was switched off meanwhile. */
export function membershipChargedLetter(data: z.output<typeof MembershipChargedData>, to: Correspondents): Letter {
  const { kind, months, howToPay } = data;
  const [one] = months;
  const lines = months.map(({ month, amount, how }) => `${month}: ${amount}${how === null ? '' : ` (${how})`}`);
  return letterText(to, `${kind}: ${months.length === 1 ? one?.month : `${months.length} months`}`, [
    `This is what your membership, ${kind}, comes to:\n${indented(lines)}`,
    `How to pay: ${sentenceOf(howToPay)} If you have paid already, thank you: please ignore this.`,
  ]);
}

/** Says that the fee changes, from when, and what somebody can do who does not want that. */
export function membershipFeeLetter(data: z.output<typeof MembershipFeeData>, to: Correspondents): Letter {
  const { kind, from, before, fee, notice, lastDayIfNow } = data;
  return letterText(to, `A new fee for ${kind} from ${from}`, [
    `From ${from} your membership, ${kind}, costs ${fee} a month instead of ${before}.`,
    `If you don’t want to go on at that fee, tell us: just reply to this email. ${notice} Given today, your last day would be ${lastDayIfNow}.`,
  ]);
}

export function membershipPausedLetter(data: z.output<typeof MembershipPausedData>, to: Correspondents): Letter {
  const { kind, from, to: until, rate, credited } = data;
  return letterText(to, `${kind} is paused until ${until}`, [
    `Your membership, ${kind}, is paused from ${from} to ${until}. For these days you pay ${rate}, and nothing is included.`,
    credited === null ? null : `We have taken ${credited} off what was charged for them.`,
  ]);
}

export function membershipEndsLetter(data: z.output<typeof MembershipEndsData>, to: Correspondents): Letter {
  const { kind, lastDay, reason, credited, shelf } = data;
  return letterText(to, `${kind} ends on ${lastDay}`, [
    `Your membership, ${kind}, ends on ${lastDay}, which is its last day.`,
    reason === null ? null : sentenceOf(reason),
    credited === null ? null : `We have taken ${credited} off what was charged for the days after it.`,
    shelf === null ? null : `Please clear your shelf, ${shelf}, by then.`,
    'Thank you for having been a member. You are welcome at any time.',
  ]);
}

export function membershipGoesOnLetter(data: z.output<typeof MembershipGoesOnData>, to: Correspondents): Letter {
  const { kind, fee, what } = data;
  return letterText(to, `${kind} goes on`, [
    what.kind === 'pauseEnds'
      ? `The pause of your membership, ${kind}, ends on ${what.to}. It goes on from the day after, at ${fee} a month.`
      : what.kind === 'noPause'
        ? `Your membership, ${kind}, is not going to be paused. It goes on at ${fee} a month.`
        : `You have taken your notice back, so your membership, ${kind}, goes on at ${fee} a month. We are glad.`,
  ]);
}

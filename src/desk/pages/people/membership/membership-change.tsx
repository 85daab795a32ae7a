import type { ComponentChildren } from 'preact';
import type { Schemas } from '../../../api/client';
import type { Formatter } from '../../../format/formatter';
import { Field } from '../../../forms/field';
import type { MembershipInFull } from '../membership-labels';

export type ChangeProps = { membership: MembershipInFull; formatter: Formatter; today: string };
export type Changed = Schemas['MembershipChanged'];
export type Method = NonNullable<Schemas['NewMembershipPauseInput']['method']>;

const METHODS: readonly (readonly [Method, string])[] = [
  ['transfer', 'By transfer'],
  ['card', 'To the card'],
  ['cash', 'In cash'],
  ['credit', 'Kept as credit on a voucher'],
];

/** How what was paid too much goes back; asked wherever something was paid. */
export const HowBack = ({ value, onChange }: { value: Method; onChange(method: Method): void }) => (
  <Field<Method> label="What was paid too much goes back" choices={METHODS} value={value} onChange={onChange} />
);

/** Whether a month that was charged is paid at all: only then can something go back. */
export const isAnythingPaid = ({ months }: MembershipInFull): boolean =>
  months.some(({ amountMinor, owedMinor }) => owedMinor < amountMinor);

/** What a change takes off what was charged. */
export function TakenOff({
  changed,
  formatter,
  children,
}: {
  changed: Changed;
  formatter: Formatter;
  children?: ComponentChildren;
}) {
  const { creditedMinor, refundMinor } = changed;
  const { moneyInText } = formatter;
  const back = refundMinor === 0 ? '' : `, and ${moneyInText(refundMinor)} of it goes back`;
  return (
    <p>
      {children}{' '}
      {creditedMinor === 0
        ? 'What was charged stays as it is.'
        : `${moneyInText(creditedMinor)} is taken off what was charged${back}.`}
    </p>
  );
}

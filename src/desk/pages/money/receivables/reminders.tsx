import { useEffect, useRef } from 'preact/hooks';
import { capital, count, type Formatter, listed } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import type { Debtor } from '../../../payment/charge-totals';
import type { Reminded } from './send-reminders';

type Props = { due: readonly Debtor[]; anybodyDue: boolean; busy: boolean; onRemind(debtors: readonly Debtor[]): void };

/** One button for all who are due and were left in peace long enough. */
export function RemindAll({ due, anybodyDue, busy, onRemind }: Props) {
  if (!anybodyDue) return null;
  if (due.length === 0)
    return <p class="quiet no-paper">Everyone with money due has been reminded within the last seven days.</p>;
  const [only] = due;
  return (
    <p>
      <button type="button" aria-disabled={busy} onClick={() => !busy && onRemind(due)}>
        {due.length === 1 ? `Write ${only?.name} a reminder` : `Write all ${due.length} who are due a reminder`}
      </button>
    </p>
  );
}

/** What became of the reminders, and whom no letter reaches. */
export function RemindersTold({
  reminded: { written, refused },
  money,
}: {
  reminded: Reminded;
  money: Formatter['money'];
}) {
  const here = useRef<HTMLDivElement>(null);
  useEffect(() => here.current?.focus(), []);
  const unreachable = written.filter(({ hasEmail }) => !hasEmail).map(({ name }) => name);
  return (
    <div ref={here} tabIndex={-1} class="told-here">
      {written.length > 0 && (
        <p class="done" role="status">
          {written.length === 1
            ? `A reminder of ${money(written[0]?.dueMinor ?? 0)} to ${written[0]?.name} is written.`
            : `${capital(count(written.length, 'reminder'))} are written, to ${listed(written.map(({ name }) => name))}.`}{' '}
          {unreachable.length > 0 &&
            `${listed(unreachable)} ${unreachable.length === 1 ? 'has' : 'have'} no email address: ask in person.`}
        </p>
      )}
      {refused.map((sentence) => (
        <ErrorMessage key={sentence}>{sentence}</ErrorMessage>
      ))}
    </div>
  );
}

import { useState } from 'preact/hooks';
import { majorUnits } from '../../../../trade/money/money.js';
import { PreviewedAction } from '../../../actions/previewed-action';
import type { RefundMethod } from '../../../actions/refund-methods';
import { api, type Schemas } from '../../../api/client';
import { count, type Formatter, listed } from '../../../format/formatter';
import { amountTyped } from '../../../forms/amount';
import { Field } from '../../../forms/field';
import { limitOf } from '../../../forms/limits';
import { type Column, DataTable } from '../../../ui/data-table';
import { DialogButton } from '../../../ui/dialog';
import { toast } from '../../../ui/toast';
import type { Course } from '../labels';
import { howBack, METHODS } from './how-back';
import { type Session, timesOf } from './labels';

type Wish = Schemas['NewSessionCancellationInput'];
type Cancelled = Schemas['SessionCancellation'];
type GivenBack = Cancelled['concerned'][number];
type Props = { course: Course; session: Session; formatter: Formatter };

/** Cancels one session; what is given back for it and each letter are seen first. */
export function CancelSession(props: Props) {
  const { course, session } = props;
  return (
    <DialogButton
      label="Cancel"
      about={`session ${session.ordinal}`}
      title={`Cancel session ${session.ordinal} of ${course.title}`}
    >
      {(close) => <Cancelling {...props} onClose={close} />}
    </DialogButton>
  );
}

function Cancelling({ course, session, formatter, onClose }: Props & { onClose(): void }) {
  const { currency, moneyInText } = formatter;
  const [reason, setReason] = useState('');
  const [amount, setAmount] = useState('0');
  const [method, setMethod] = useState<RefundMethod | 'asPaid'>('asPaid');
  const backMinor = amountTyped(amount, currency, 0);
  const how = method === 'asPaid' ? {} : { method };
  const isFilled = reason.trim() !== '' && backMinor !== null;
  const wish: Wish | null = isFilled ? { reason: reason.trim(), backMinor: backMinor ?? 0, ...how } : null;
  const params = { path: { sessionId: session.id } };
  return (
    <>
      <p>It is on {timesOf(session, formatter)}.</p>
      <Field
        label="Reason, as the letter says it"
        value={reason}
        onChange={setReason}
        maxLength={limitOf('NewSessionCancellationInput', '#/reason').maxLength}
      />
      <div class="pairs">
        <Field
          label={course.kind === 'private' ? 'Give back' : 'Give back for a place'}
          hint="Off what is owed first; a concession gets its part"
          figures
          value={amount}
          onChange={setAmount}
          fault={backMinor === null ? `Write an amount, for example ${majorUnits(1250, currency)}, or 0.` : undefined}
        />
        <Field<RefundMethod | 'asPaid'> label="Paid back" choices={METHODS} value={method} onChange={setMethod} />
      </div>
      {wish === null && backMinor !== null && <p class="quiet">Write the reason to see who is told.</p>}
      <PreviewedAction<Wish, Cancelled>
        name={`cancel session ${session.id}`}
        wish={wish}
        ask={(body, signal) => api.POST('/api/sessions/{sessionId}/cancellation/preview', { params, body, signal })}
        send={(body, headers) => api.POST('/api/sessions/{sessionId}/cancellation', { params, body, headers })}
        save={({ outcome, letters }) => saveLabel(outcome, letters.length, formatter)}
        onDone={({ totals }) => {
          onClose();
          const back = totals.backMinor > 0 ? `, and ${moneyInText(totals.backMinor)} is given back` : '';
          toast(<span>{`Session ${session.ordinal} of ${course.title} is cancelled${back}.`}</span>);
        }}
        onCancel={onClose}
      >
        {(outcome) => (
          <Outcome {...{ outcome, formatter }} onTake={() => setAmount(majorUnits(outcome.partMinor, currency))} />
        )}
      </PreviewedAction>
    </>
  );
}

function saveLabel({ totals }: Cancelled, letters: number, { moneyInText }: Formatter): string {
  const back = totals.backMinor > 0 ? [`give back ${moneyInText(totals.backMinor)}`] : [];
  const send = letters > 0 ? [`send ${count(letters, 'letter')}`] : [];
  return ['Cancel this session', ...back, ...send].join(', ');
}

type OutcomeProps = { outcome: Cancelled; formatter: Formatter; onTake(): void };

function Outcome({ outcome, formatter, onTake }: OutcomeProps) {
  const { partMinor, totals, concerned, alsoTold, warnings } = outcome;
  const { moneyInText } = formatter;
  return (
    <>
      {totals.backMinor === 0 && partMinor > 0 && concerned.length > 0 && (
        <p>
          By its hours, it is {moneyInText(partMinor)} of the price.{' '}
          <button type="button" class="quiet" onClick={onTake}>
            Give back {moneyInText(partMinor)}
          </button>
        </p>
      )}
      {warnings.map((warning) => (
        <p key={warning} class="amber">
          {warning}
        </p>
      ))}
      {concerned.length === 0 ? (
        <p>Nobody has a place, so no letter goes out.</p>
      ) : (
        <Concerned {...{ outcome, formatter }} />
      )}
      {alsoTold.length > 0 && <p>Told at their own address: {listed(alsoTold.map(({ name }) => name))}.</p>}
    </>
  );
}

/** Everyone concerned, and line by line what is given back. */
function Concerned({ outcome: { concerned, totals }, formatter }: Pick<OutcomeProps, 'outcome' | 'formatter'>) {
  const figures = (head: string, of: (one: GivenBack) => number, total: number): Column<GivenBack> => ({
    ...{ head, figures: true, cell: (one) => formatter.money(of(one)), total: formatter.money(total) },
    toneOf: (one) => (of(one) === 0 ? 'none' : undefined),
  });
  const back: Column<GivenBack>[] = [
    figures('Off what is owed', ({ offMinor }) => offMinor, totals.offMinor),
    figures('Refund', ({ refundMinor }) => refundMinor, totals.refundMinor),
    { head: 'How', cell: (one) => howBack(one, formatter) },
  ];
  const columns: Column<GivenBack>[] = [
    { head: 'Paid by', cell: ({ payerName }) => payerName },
    { head: 'For', cell: ({ attendees }) => listed(attendees) },
    ...(totals.backMinor > 0 ? back : []),
  ];
  return (
    <DataTable
      caption="Whom it concerns"
      {...{ columns }}
      rows={concerned}
      keyOf={({ bookingId }) => bookingId}
      total={concerned.length > 1 && totals.backMinor > 0 ? 'Total' : undefined}
    />
  );
}

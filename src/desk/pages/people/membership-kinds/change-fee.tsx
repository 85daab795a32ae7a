import { useState } from 'preact/hooks';
import { PreviewedAction } from '../../../actions/previewed-action';
import { api, type Schemas } from '../../../api/client';
import { count, type Formatter } from '../../../format/formatter';
import { amountTyped } from '../../../forms/amount';
import { Field } from '../../../forms/field';
import { DataTable } from '../../../ui/data-table';
import { DialogButton } from '../../../ui/dialog';
import { toast } from '../../../ui/toast';
import type { MembershipKind } from '../membership-labels';

type Wish = Schemas['NewMembershipFeeInput'];
type Props = { kind: MembershipKind; formatter: Formatter; today: string };

/** A new fee from a day on, and from when members pay it; each letter is seen first. */
export const ChangeFee = (props: Props) => (
  <DialogButton label="New fee" about={`for ${props.kind.name}`} title={`A new fee for ${props.kind.name}`}>
    {(close) => <Changing {...props} onClose={close} />}
  </DialogButton>
);

const REACHES = [
  ['told', 'Members pay it too, and are told'],
  ['new', 'Members keep their fee'],
] as const;

function Changing({ kind, formatter, today, onClose }: Props & { onClose(): void }) {
  const [fee, setFee] = useState('');
  const [validFrom, setValidFrom] = useState(today);
  const [reaches, setReaches] = useState<'told' | 'new'>(kind.members > 0 ? 'told' : 'new');
  const [membersFrom, setMembersFrom] = useState(soonestOf(kind, today));
  const feeMinor = amountTyped(fee, formatter.currency);
  const isReadable = feeMinor !== null && validFrom !== '' && (reaches === 'new' || membersFrom !== '');
  const params = { path: { membershipKindId: kind.id } };
  return (
    <>
      <div class="pairs">
        <Field label={`Fee for a month, ${formatter.currency}`} figures value={fee} onChange={setFee} />
        <Field label="New members pay it from" type="date" value={validFrom} onChange={setValidFrom} />
        {kind.members > 0 && (
          <Field<'told' | 'new'> label="Who is a member" choices={REACHES} value={reaches} onChange={setReaches} />
        )}
        {reaches === 'told' && (
          <Field
            label="Members pay it from"
            hint={`The first of a month; they hear of it ${count(kind.feeNoticeDays, 'day')} before`}
            type="date"
            value={membersFrom}
            onChange={setMembersFrom}
          />
        )}
      </div>
      <PreviewedAction<Wish, Schemas['MembershipFeeChanged']>
        name={`fee ${kind.id}`}
        wish={isReadable ? { feeMinor, validFrom, membersFrom: reaches === 'told' ? membersFrom : null } : null}
        ask={(body, signal) =>
          api.POST('/api/membership-kinds/{membershipKindId}/fees/preview', { params, body, signal })
        }
        send={(body, headers) => api.POST('/api/membership-kinds/{membershipKindId}/fees', { params, body, headers })}
        save={({ outcome: { told } }) => (told === 0 ? 'Save the fee' : `Save it and send ${count(told, 'letter')}`)}
        onDone={({ told }) => {
          onClose();
          toast(<span>The new fee is saved.{told > 0 ? ` ${count(told, 'letter')} to members.` : ''}</span>);
        }}
        onCancel={onClose}
      >
        {({ told }) => (
          <p>{told === 0 ? 'No member is told.' : `It reaches ${count(told, 'member')}, each by letter.`}</p>
        )}
      </PreviewedAction>
      <DataTable
        caption="Fees so far"
        captionShown
        fitsPhone
        columns={[
          { head: 'From', cell: ({ validFrom: from }) => formatter.fullDate(from) },
          { head: 'Fee', figures: true, cell: ({ feeMinor: minor }) => formatter.money(minor) },
        ]}
        rows={kind.fees}
        keyOf={({ validFrom: from, feeMinor: minor }) => `${from} ${minor}`}
      />
    </>
  );
}

/** The first month from which members can pay a fee of which they are told today. */
function soonestOf({ feeNoticeDays }: MembershipKind, today: string): string {
  const day = new Date(`${today}T12:00:00Z`);
  day.setUTCDate(day.getUTCDate() + Math.max(1, feeNoticeDays));
  if (day.getUTCDate() > 1) day.setUTCMonth(day.getUTCMonth() + 1, 1);
  return day.toISOString().slice(0, 10);
}

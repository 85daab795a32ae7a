import { useState } from 'preact/hooks';
import { PreviewedAction } from '../../../actions/previewed-action';
import { api, type Schemas } from '../../../api/client';
import { Field } from '../../../forms/field';
import { limitOf } from '../../../forms/limits';
import { DialogButton } from '../../../ui/dialog';
import { toast } from '../../../ui/toast';
import type { MembershipInFull } from '../membership-labels';
import { type Changed, type ChangeProps, HowBack, isAnythingPaid, type Method, TakenOff } from './membership-change';

type Inside = ChangeProps & { onClose(): void };

/** Ends a membership on the day that its terms say, or another. */
export const GiveNotice = (props: ChangeProps) => (
  <DialogButton label="Give notice" title={`End the membership of ${props.membership.personName}`}>
    {(close) => <Giving {...props} onClose={close} />}
  </DialogButton>
);

function Giving({ membership, formatter, onClose }: Inside) {
  const { id, lastDayIfToday, startsOn } = membership;
  const [, byTerms = lastDayIfToday] = [lastDayIfToday, startsOn].sort();
  const [lastDay, setLastDay] = useState(byTerms);
  const [reason, setReason] = useState('');
  const [method, setMethod] = useState<Method>('transfer');
  const params = { path: { membershipId: id } };
  const isSooner = lastDay !== '' && lastDay < lastDayIfToday;
  return (
    <>
      <p class="quiet">Given today, its last day is {formatter.fullDate(byTerms)} by its terms.</p>
      <div class="pairs">
        <Field label="Last day" type="date" value={lastDay} onChange={setLastDay} />
        {isSooner && (
          <Field
            label="Why it ends sooner"
            hint="The letter says it"
            value={reason}
            onChange={setReason}
            maxLength={limitOf('NewMembershipNoticeInput', '#/reason').maxLength}
          />
        )}
        {isAnythingPaid(membership) && <HowBack value={method} onChange={setMethod} />}
      </div>
      <PreviewedAction<Schemas['NewMembershipNoticeInput'], Changed>
        name={`notice ${id}`}
        wish={
          lastDay && (!isSooner || reason.trim()) ? { lastDay, method, reason: isSooner ? reason.trim() : null } : null
        }
        ask={(body, signal) => api.POST('/api/memberships/{membershipId}/notice/preview', { params, body, signal })}
        send={(body, headers) => api.POST('/api/memberships/{membershipId}/notice', { params, body, headers })}
        save={() => `End it on ${formatter.fullDate(lastDay)}`}
        onDone={() => {
          onClose();
          toast(<span>It ends on {formatter.fullDate(lastDay)}.</span>);
        }}
        onCancel={onClose}
      >
        {(changed) => (
          <TakenOff changed={changed} formatter={formatter}>
            {changed.membership.next &&
              `${formatter.moneyInText(changed.membership.next.amountMinor)} is charged on ${formatter.date(changed.membership.next.on)}.`}
          </TakenOff>
        )}
      </PreviewedAction>
    </>
  );
}

/** It goes on after all. */
export const TakeNoticeBack = (props: ChangeProps) => (
  <DialogButton label="Take notice back" title={`The membership of ${props.membership.personName} goes on`}>
    {(close) => <TakingBack {...props} onClose={close} />}
  </DialogButton>
);

function TakingBack({ membership: { id }, onClose }: Inside) {
  const params = { path: { membershipId: id } };
  return (
    <PreviewedAction<object, MembershipInFull>
      name={`goes on ${id}`}
      wish={{}}
      ask={(_, signal) => api.POST('/api/memberships/{membershipId}/notice/withdrawal/preview', { params, signal })}
      send={(_, headers) => api.POST('/api/memberships/{membershipId}/notice/withdrawal', { params, headers })}
      save={() => 'Let it go on'}
      onDone={() => {
        onClose();
        toast(<span>The membership goes on.</span>);
      }}
      onCancel={onClose}
    >
      {() => <p>There is no last day any more.</p>}
    </PreviewedAction>
  );
}

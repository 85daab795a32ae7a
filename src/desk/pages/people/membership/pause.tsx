import { useState } from 'preact/hooks';
import { PreviewedAction } from '../../../actions/previewed-action';
import { api, type Schemas } from '../../../api/client';
import { Field } from '../../../forms/field';
import { DialogButton } from '../../../ui/dialog';
import { toast } from '../../../ui/toast';
import { type MembershipInFull, pauseOf } from '../membership-labels';
import { type Changed, type ChangeProps, HowBack, isAnythingPaid, type Method, TakenOff } from './membership-change';

type Inside = ChangeProps & { onClose(): void };

/** Pauses a membership; what it takes off and the letter are seen first. */
export const PauseMembership = (props: ChangeProps) => (
  <DialogButton label="Pause" about={`the membership of ${props.membership.personName}`} title="Pause this membership">
    {(close) => <Pausing {...props} onClose={close} />}
  </DialogButton>
);

function Pausing({ membership, formatter, today, onClose }: Inside) {
  const [from, setFrom] = useState(today);
  const [to, setTo] = useState('');
  const [method, setMethod] = useState<Method>('transfer');
  const params = { path: { membershipId: membership.id } };
  return (
    <>
      <p class="quiet">For paused days {pauseOf(membership.pausePercent)}, and nothing is included.</p>
      <div class="pairs">
        <Field label="First day" type="date" value={from} onChange={setFrom} />
        <Field label="Last day" type="date" value={to} onChange={setTo} />
        {isAnythingPaid(membership) && <HowBack value={method} onChange={setMethod} />}
      </div>
      <PreviewedAction<Schemas['NewMembershipPauseInput'], Changed>
        name={`pause ${membership.id}`}
        wish={from && to ? { from, to, method } : null}
        ask={(body, signal) => api.POST('/api/memberships/{membershipId}/pauses/preview', { params, body, signal })}
        send={(body, headers) => api.POST('/api/memberships/{membershipId}/pauses', { params, body, headers })}
        save={() => 'Pause it'}
        onDone={() => {
          onClose();
          toast(<span>Paused until {formatter.fullDate(to)}.</span>);
        }}
        onCancel={onClose}
      >
        {(changed) => <TakenOff changed={changed} formatter={formatter} />}
      </PreviewedAction>
    </>
  );
}

type PauseProps = ChangeProps & { pause: MembershipInFull['pauses'][number] };

/** Ends a pause sooner, or takes it back before it begins. */
export const EndPause = (props: PauseProps) => (
  <DialogButton
    label="End sooner"
    about={`the pause from ${props.formatter.fullDate(props.pause.from)}`}
    title="End this pause sooner"
  >
    {(close) => <Ending {...props} onClose={close} />}
  </DialogButton>
);

function Ending({ membership, pause, formatter, today, onClose }: PauseProps & Inside) {
  const isToCome = pause.from > today;
  const [how, setHow] = useState<'ends' | 'none'>(isToCome ? 'none' : 'ends');
  const [to, setTo] = useState(isToCome ? pause.from : today);
  const params = { path: { membershipId: membership.id, pauseId: pause.id } };
  return (
    <>
      <div class="pairs">
        {isToCome && (
          <Field<'ends' | 'none'>
            label="What becomes of it"
            choices={[
              ['none', 'There is no pause at all'],
              ['ends', 'It ends sooner'],
            ]}
            value={how}
            onChange={setHow}
          />
        )}
        {how === 'ends' && <Field label="Last day of the pause" type="date" value={to} onChange={setTo} />}
      </div>
      <PreviewedAction<Schemas['ShorterMembershipPauseInput'], Changed>
        name={`shorten ${pause.id}`}
        wish={how === 'none' ? { to: null } : to ? { to } : null}
        ask={(body, signal) =>
          api.POST('/api/memberships/{membershipId}/pauses/{pauseId}/end/preview', { params, body, signal })
        }
        send={(body, headers) =>
          api.POST('/api/memberships/{membershipId}/pauses/{pauseId}/end', { params, body, headers })
        }
        save={() => (how === 'none' ? 'Take the pause back' : 'End it then')}
        onDone={() => {
          onClose();
          toast(
            <span>
              {how === 'none' ? 'There is no pause any more.' : `The pause ends on ${formatter.fullDate(to)}.`}
            </span>,
          );
        }}
        onCancel={onClose}
      >
        {(changed) => <TakenOff changed={changed} formatter={formatter} />}
      </PreviewedAction>
    </>
  );
}

import { useState } from 'preact/hooks';
import { api, type Schemas } from '../api/client';
import { toast } from '../ui/toast';
import { ChoosePerson, type Chosen } from './choose-person';
import { PreviewedAction } from './previewed-action';
import { type NamedActs, SellingRules } from './selling-rules';

type Booking = Pick<Schemas['Booking'], 'id' | 'payerName' | 'attendees'>;
type Wish = Schemas['NewNameChangeInput'];
type Props = { booking: Booking; onClose(): void };

/** Lets somebody else come on a place: who was to come, who comes instead, and whom it tells. */
export function ChangeName({ booking, onClose }: Props) {
  const { attendees } = booking;
  const [from, setFrom] = useState<Chosen | null>(attendees.length === 1 ? chosenOf(attendees[0]) : null);
  const [to, setTo] = useState<Chosen | null>(null);
  if (!from)
    return (
      <>
        <p>Who can’t come?</p>
        <ul class="choices" aria-label="Who can’t come">
          {attendees.map((attendee) => (
            <li key={attendee.personId}>
              <button type="button" class="quiet" onClick={() => setFrom(chosenOf(attendee))}>
                {attendee.name}
              </button>
            </li>
          ))}
        </ul>
      </>
    );
  if (!to) return <ChoosePerson label={`Who comes instead of ${from.name}`} onChoose={setTo} />;
  return <Changing {...{ booking, from, to, onClose }} onOther={() => setTo(null)} />;
}

const chosenOf = (attendee: Booking['attendees'][number] | undefined): Chosen | null =>
  attendee ? { id: attendee.personId, name: attendee.name } : null;

type ChangingProps = Props & { from: Chosen; to: Chosen; onOther(): void };

function Changing({ booking, from, to, onClose, onOther }: ChangingProps) {
  const [acts, setActs] = useState<NamedActs>({});
  const { agesConfirmed } = acts;
  const wish: Wish = { personId: from.id, toPersonId: to.id, ...(agesConfirmed && { agesConfirmed }) };
  const params = { path: { bookingId: booking.id } };
  return (
    <>
      <p>
        <b>{to.name}</b> comes instead of {from.name}.{' '}
        <button type="button" class="quiet" onClick={onOther}>
          Choose somebody else
        </button>
      </p>
      <SellingRules acts={acts} onActs={setActs} />
      <PreviewedAction<Wish, Schemas['NameChange']>
        name={`change a name of ${booking.id}`}
        wish={wish}
        ask={(body, signal) => api.POST('/api/bookings/{bookingId}/name-changes/preview', { params, body, signal })}
        send={(body, headers) => api.POST('/api/bookings/{bookingId}/name-changes', { params, body, headers })}
        overrule={(refused) => <SellingRules {...{ acts, refused }} onActs={setActs} />}
        save={() => 'Change the name'}
        onDone={() => {
          onClose();
          toast(
            <span>
              {to.name} comes instead of {from.name}.
            </span>,
          );
        }}
        onCancel={onClose}
      >
        {({ concession }) => (
          <p>
            The price and what is paid stay as they are; {booking.payerName} still pays.
            {concession !== null && ` The place keeps its price “${concession}”.`}
          </p>
        )}
      </PreviewedAction>
    </>
  );
}

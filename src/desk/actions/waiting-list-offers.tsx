import { api, type Schemas } from '../api/client';
import { capital, count, type Formatter } from '../format/formatter';
import { DialogButton } from '../ui/dialog';
import { toast } from '../ui/toast';
import { PreviewedAction } from './previewed-action';

type Entry = Schemas['WaitingEntry'];
type Props = { courseId: string; formatter: Formatter };

/** "until Thursday 12 March at 18:00" */
export const untilOf = (until: string, { longDay, dayOf, time }: Formatter) =>
  `until ${longDay(dayOf(until))} at ${time(until)}`;

/** A button that offers a free place to who is next. */
export function OfferPlace({ name, ...props }: Props & { name: string }) {
  return (
    <DialogButton label={`Offer it to ${name}`} title={`Offer a place to ${name}`}>
      {(close) => <OfferForm {...props} onClose={close} />}
    </DialogButton>
  );
}

/** Offers what is free to the first for whom it is enough; who that is, until when, and the letter are seen first. */
export function OfferForm({ courseId, formatter, onClose }: Props & { onClose(): void }) {
  const params = { path: { courseId } };
  return (
    <PreviewedAction<Record<string, never>, Entry>
      name={`offer ${courseId}`}
      wish={{}}
      ask={(body, signal) => api.POST('/api/courses/{courseId}/waiting-list/offers/preview', { params, body, signal })}
      send={(body, headers) => api.POST('/api/courses/{courseId}/waiting-list/offers', { params, body, headers })}
      save={({ outcome: { places } }) => `Offer ${count(places, 'place')}`}
      onDone={(entry) => {
        onClose();
        toast(
          <span>
            {capital(count(entry.places, 'place'))} offered to {entry.personName}
            {entry.offeredUntil && `, ${untilOf(entry.offeredUntil, formatter)}`}.
          </span>,
        );
      }}
      onCancel={onClose}
    >
      {({ personName, places, note, offeredUntil }) => (
        <p>
          <b>{personName}</b> is next, and would like {count(places, 'place')}. We keep {places === 1 ? 'it' : 'them'}{' '}
          {offeredUntil && untilOf(offeredUntil, formatter)}.{note && ` Your note: ${note}`}
        </p>
      )}
    </PreviewedAction>
  );
}

type RemoveProps = { entry: Entry; formatter: Formatter; onClose(): void };

/** Takes somebody off the list; an offer that they had goes to the next, whose letter is seen first. */
export function RemoveForm({ entry, formatter, onClose }: RemoveProps) {
  const params = { path: { entryId: entry.id } };
  const hasOffer = entry.offeredUntil !== null;
  return (
    <PreviewedAction<Record<string, never>, Schemas['WaitingListRemoval']>
      name={`remove ${entry.id}`}
      wish={{}}
      ask={(body, signal) => api.POST('/api/waiting-list/{entryId}/removal/preview', { params, body, signal })}
      send={(body, headers) => api.POST('/api/waiting-list/{entryId}/removal', { params, body, headers })}
      save={() => (hasOffer ? 'Decline the offer' : 'Remove')}
      onDone={() => {
        onClose();
        toast(<span>{entry.personName} is no longer on the waiting list.</span>);
      }}
      onCancel={onClose}
    >
      {({ offered }) => (
        <p>
          {entry.personName} comes off the waiting list.{' '}
          {offered?.offeredUntil
            ? `The offer goes to ${offered.personName}, ${untilOf(offered.offeredUntil, formatter)}.`
            : hasOffer && 'Nobody else waits for these places.'}
        </p>
      )}
    </PreviewedAction>
  );
}

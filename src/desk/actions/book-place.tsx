import type { ComponentChildren } from 'preact';
import { useCallback, useState } from 'preact/hooks';
import { api, Refused, type Schemas } from '../api/client';
import type { Headers } from '../api/idempotency-key';
import { useQuery } from '../api/query';
import { capital, count, type Formatter, listed } from '../format/formatter';
import { Field } from '../forms/field';
import { limitOf } from '../forms/limits';
import { DialogButton } from '../ui/dialog';
import { toast } from '../ui/toast';
import { ChoosePerson, type Chosen } from './choose-person';
import { PreviewedAction } from './previewed-action';
import { type NamedActs, SellingRules } from './selling-rules';
import { TakePayment } from './take-payment';

type Booking = Schemas['Booking'];
type Wish = Schemas['NewBookingInput'];
type Course = { courseId: string; title: string };
type Props = { course: Course; person?: Chosen; formatter: Formatter };

const PLACES_MAX = limitOf('NewBookingInput', '#/attendeeIds').maxItems ?? Number.POSITIVE_INFINITY;

/** Books places on a course: whose they are, who pays, what it costs and the letter that says so, before it is done. Who it is for may be known already. */
export function BookPlace({ course, person, formatter }: Props) {
  return (
    <DialogButton
      label="Book a place"
      about={person ? `for ${person.name} on ${course.title}` : `on ${course.title}`}
      title={`Book a place on ${course.title}`}
    >
      {(close) => <BookingForm {...{ course, formatter, ...(person && { person }) }} onClose={close} />}
    </DialogButton>
  );
}

/** An offer that is accepted by the booking: whose it is and how many places it is for. */
type Offer = { entryId: string; person: Chosen; places: number };
/** What somebody asked for on the web page, which the booking answers. */
type Request = { requestId: string };
type FormProps = Props & { offer?: Offer; request?: Request; onClose(): void };

/** Who comes, who pays and what it comes to; of an offer or a request, who waited or asked is there already. */
export function BookingForm({ course, formatter, offer, request, person = offer?.person, onClose }: FormProps) {
  const [people, setPeople] = useState<readonly Chosen[]>(person ? [person] : []);
  const [isAdding, setAdding] = useState(!person);
  const [payerId, setPayerId] = useState('');
  const [concessions, setConcessions] = useState<Readonly<Record<string, string>>>({});
  const [acts, setActs] = useState<NamedActs>({});
  const found = useCourse(course.courseId);
  const kinds = found?.concessions ?? [];
  const [unnamed, setUnnamed] = useState('0');
  const more = /^\d{1,2}$/.test(unnamed.trim()) ? Number(unnamed) : null;
  const payer = people.find(({ id }) => id === payerId) ?? people[0];
  const wish = payer && more !== null ? { ...wishOf(payer, people, concessions, more), ...acts } : null;
  const add = (person: Chosen) => {
    if (!people.some(({ id }) => id === person.id)) setPeople([...people, person]);
    setAdding(false);
  };
  return (
    <>
      {people.map((person) => (
        <Comer
          key={person.id}
          {...{ person, kinds }}
          concessionId={concessions[person.id] ?? ''}
          onConcession={(id) => setConcessions({ ...concessions, [person.id]: id })}
          onRemove={() => {
            setPeople(people.filter(({ id }) => id !== person.id));
            setAdding(people.length === 1);
          }}
        />
      ))}
      {isAdding ? (
        <ChoosePerson label={people.length === 0 ? 'Who comes' : 'Who comes too'} onChoose={add} />
      ) : (
        people.length < (offer?.places ?? PLACES_MAX) && <AddAnother onPress={() => setAdding(true)} />
      )}
      {found?.kind === 'private' && people.length > 0 && (
        <Field
          label="How many more come"
          hint="Of the group, without a name for now. You can name them later, or not at all."
          figures="whole"
          value={unnamed}
          onChange={setUnnamed}
          fault={more === null ? 'Write a number, 0 if everybody has a name.' : undefined}
        />
      )}
      {people.length > 1 && (
        <Field
          label="Who pays"
          choices={people.map(({ id, name }) => [id, name] as const)}
          value={payer?.id ?? ''}
          onChange={setPayerId}
        />
      )}
      <SellingRules acts={acts} onActs={setActs} />
      {wish && (
        <Booked
          overrule={(refused) => <SellingRules {...{ acts, refused }} onActs={setActs} />}
          {...{ wish, course, formatter, onClose }}
          answers={{ entryId: offer?.entryId, requestId: request?.requestId }}
        />
      )}
    </>
  );
}

const AddAnother = ({ onPress }: { onPress(): void }) => (
  <p class="acts">
    <button type="button" class="quiet" onClick={onPress}>
      Add another person
    </button>
  </p>
);

type ComerProps = {
  person: Chosen;
  kinds: Schemas['Course']['concessions'];
  concessionId: string;
  onConcession(id: string): void;
  onRemove(): void;
};

/** Somebody who comes, and the price they pay. */
function Comer({ person: { name }, kinds, concessionId, onConcession, onRemove }: ComerProps) {
  return (
    <div class="pairs">
      <p>
        <b>{name}</b>{' '}
        <button type="button" class="quiet" aria-label={`Remove ${name}`} onClick={onRemove}>
          Remove
        </button>
      </p>
      {kinds.length > 0 && (
        <Field
          label={`Price for ${name}`}
          choices={[['', 'Full price'], ...kinds.map(({ id, label }) => [id, label] as const)]}
          value={concessionId}
          onChange={onConcession}
        />
      )}
    </div>
  );
}

function wishOf(
  payer: Chosen,
  people: readonly Chosen[],
  concessions: Readonly<Record<string, string>>,
  unnamed: number,
): Wish {
  const reduced = people.flatMap(({ id }) =>
    concessions[id] ? [{ attendeeId: id, concessionId: concessions[id] }] : [],
  );
  return {
    ...{ payerId: payer.id, attendeeIds: people.map(({ id }) => id) },
    ...(reduced.length > 0 && { concessions: reduced }),
    ...(unnamed > 0 && { unnamed }),
  };
}

/** What the booking answers, if anything. */
type Answers = { entryId: string | undefined; requestId: string | undefined };
type BookedProps = Props & {
  wish: Wish;
  answers: Answers;
  overrule(type: string): ComponentChildren;
  onClose(): void;
};

/** The addresses that book places, as an answer to a request or not, or accept an offer of them. */
function bookingOf(courseId: string, { entryId, requestId }: Answers) {
  if (requestId !== undefined) {
    const params = { path: { requestId } };
    return {
      ask: (body: Wish, signal: AbortSignal) =>
        api.POST('/api/place-requests/{requestId}/booking/preview', { params, body, signal }),
      send: (body: Wish, headers: Headers) =>
        api.POST('/api/place-requests/{requestId}/booking', { params, body, headers }),
    };
  }
  const params = { path: { courseId } };
  if (entryId === undefined)
    return {
      ask: (body: Wish, signal: AbortSignal) =>
        api.POST('/api/courses/{courseId}/bookings/preview', { params, body, signal }),
      send: (body: Wish, headers: Headers) => api.POST('/api/courses/{courseId}/bookings', { params, body, headers }),
    };
  const offered = { path: { entryId } };
  return {
    ask: async (body: Wish, signal: AbortSignal) => {
      const at = { params: offered, body, signal };
      const { data } = await api.POST('/api/waiting-list/{entryId}/acceptance/preview', at);
      return data ? { data: { ...data, outcome: data.outcome.booking } } : {};
    },
    send: async (body: Wish, headers: Headers) => {
      const at = { params: offered, body, headers };
      const { data } = await api.POST('/api/waiting-list/{entryId}/acceptance', at);
      return data ? { data: data.booking } : {};
    },
  };
}

function Booked({ wish, course, formatter, answers, overrule, onClose }: BookedProps) {
  return (
    <PreviewedAction<Wish, Booking>
      name={`book ${answers.entryId ?? answers.requestId ?? course.courseId}`}
      wish={wish}
      {...bookingOf(course.courseId, answers)}
      save={({ outcome: { attendees, unnamed } }) => {
        if (unnamed > 0) return `Book for ${attendees.length + unnamed} people`;
        return attendees.length === 1 ? 'Book this place' : `Book ${attendees.length} places`;
      }}
      onDone={(booking) => {
        onClose();
        toast(
          <>
            <span>
              {capital(count(booking.attendees.length + booking.unnamed, 'place'))} booked for {booking.payerName}.
            </span>
            <TakePayment person={{ personId: booking.payerId, name: booking.payerName }} formatter={formatter} />
          </>,
        );
      }}
      onCancel={onClose}
      overrule={overrule}
    >
      {(booking) => (
        <>
          <p>{termsOf(booking, formatter)}</p>
          {booking.attendees.some(({ lacksGuardian }) => lacksGuardian) && <p class="amber">{lackingOf(booking)}</p>}
        </>
      )}
    </PreviewedAction>
  );
}

/** "Ivo is a child, and nobody is noted who answers for them." */
function lackingOf({ attendees }: Booking): string {
  const children = attendees.filter(({ lacksGuardian }) => lacksGuardian).map(({ name }) => name);
  const said = children.length === 1 ? 'is a child' : 'are children';
  return `${listed(children)} ${said}, and nobody is noted who answers for them. You can book; then add a guardian on their page, so you know whom to ring.`;
}

function termsOf(
  { priceMinor, includedMinor, depositMinor, heldUntil, state, attendees, unnamed }: Booking,
  { moneyInText, dayOf, longDay, time }: Formatter,
): string {
  const [place, it] = attendees.length + unnamed === 1 ? ['The place is', 'its'] : ['The places are', 'their'];
  const price = includedMinor === 0 ? moneyInText(priceMinor) : includedInWords(priceMinor, includedMinor, moneyInText);
  if (state === 'confirmed' || heldUntil === null) return `${price}. ${place} confirmed at once.`;
  return `${price}. ${place} held until ${longDay(dayOf(heldUntil))} at ${time(heldUntil)} for ${it} deposit of ${moneyInText(depositMinor)}.`;
}

/** What a member's booking costs: "Nothing to pay: their membership includes all of £12" */
function includedInWords(priceMinor: number, includedMinor: number, moneyInText: Formatter['moneyInText']): string {
  if (includedMinor === priceMinor) return `Nothing to pay: membership includes all of ${moneyInText(priceMinor)}`;
  return `${moneyInText(priceMinor - includedMinor)}, since membership includes ${moneyInText(includedMinor)} of ${moneyInText(priceMinor)}`;
}

/** What places of a course cost below its full price. */
export const useConcessions = (courseId: string): Schemas['Course']['concessions'] =>
  useCourse(courseId)?.concessions ?? [];

/** A course as its address shows it, once it is there. */
function useCourse(courseId: string): Schemas['Course'] | undefined {
  const read = useCallback(
    async (signal: AbortSignal) => {
      const { data } = await api.GET('/api/courses/{courseId}', { params: { path: { courseId } }, signal });
      if (!data) throw new Refused('unknown', 'The course could not be loaded. Close this and open it again.');
      return data;
    },
    [courseId],
  );
  return useQuery({ key: ['course to book', courseId], read }).data;
}

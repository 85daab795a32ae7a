import type { ComponentChildren } from 'preact';
import { useCallback, useState } from 'preact/hooks';
import { majorUnits } from '../../trade/money/money.js';
import { api, type Schemas } from '../api/client';
import { findCourses } from '../api/lists';
import { useQuery } from '../api/query';
import { count, type Formatter, listed } from '../format/formatter';
import { placesLeftOn } from '../format/places';
import { amountTyped } from '../forms/amount';
import { Field } from '../forms/field';
import { type Column, DataTable } from '../ui/data-table';
import { DialogButton } from '../ui/dialog';
import { LookedUp } from '../ui/looked-up';
import { toast } from '../ui/toast';
import { useConcessions } from './book-place';
import { PreviewedAction } from './previewed-action';
import { REFUND_METHODS } from './refund-methods';
import { type NamedActs, SellingRules } from './selling-rules';
import { OfferPlace } from './waiting-list-offers';

type Booking = Pick<Schemas['Booking'], 'id' | 'courseId' | 'payerName' | 'paidMinor' | 'attendees'>;
type Course = Schemas['ListedCourse'];
type Move = Schemas['BookingMove'];
type Wish = Schemas['NewBookingMoveInput'];
type Method = NonNullable<Wish['method']>;
type Props = { booking: Booking; formatter: Formatter; onClose(): void };

const METHODS: readonly (readonly [Method, string])[] = [
  ...REFUND_METHODS,
  ['credit', 'Stays as credit, on a voucher'],
];

/** A button that moves a booking to another course, where the booking is listed. */
export function MoveBookingButton({ about, ...props }: Omit<Props, 'onClose'> & { about: string }) {
  return (
    <DialogButton label="Move to another course" about={about} title={`Move the booking on ${about}`}>
      {(close) => <MoveBooking {...props} onClose={close} />}
    </DialogButton>
  );
}

/** Moves a booking to a course with places left; the prices, what is carried over and the letters are seen first. */
export function MoveBooking(props: Props) {
  const read = useCallback((signal: AbortSignal) => findCourses({ is: 'ahead', order: 'firstDay' }, signal), []);
  const query = useQuery({ key: ['courses ahead'], read, fresh: true });
  return (
    <LookedUp what="the courses" query={query}>
      {({ items, hasMore }) => {
        const courses = items.filter((course) => isOpenTo(course, props.booking));
        return courses.length === 0 ? (
          <p>No other course that is coming has {count(props.booking.attendees.length, 'place')} left.</p>
        ) : (
          <Moving {...props} courses={courses} isAll={!hasMore} />
        );
      }}
    </LookedUp>
  );
}

const isOpenTo = (course: Course, { courseId, attendees }: Booking) =>
  course.id !== courseId &&
  course.state === 'coming' &&
  (course.kind === 'private' ? course.placesTaken === 0 : placesLeftOn(course) >= attendees.length);

type MovingProps = Props & { courses: readonly Course[]; isAll: boolean };

function Moving({ booking, courses, isAll, formatter, onClose }: MovingProps) {
  const { currency, moneyInText } = formatter;
  const [courseId, setCourseId] = useState('');
  const [fee, setFee] = useState('');
  const [method, setMethod] = useState<Method>('transfer');
  const [concessions, setConcessions] = useState<Wish['concessions']>();
  const [acts, setActs] = useState<NamedActs>({});
  const feeMinor = fee.trim() === '' ? 0 : amountTyped(fee, currency, 0);
  const wish: Wish | null =
    courseId === '' || feeMinor === null
      ? null
      : { courseId, method, ...(feeMinor > 0 && { feeMinor }), ...(concessions && { concessions }), ...acts };
  return (
    <>
      <Field
        label="New course"
        value={courseId}
        choices={[['', 'Choose a course'], ...courses.map((course) => [course.id, called(course, formatter)] as const)]}
        onChange={(id) => {
          setCourseId(id);
          setConcessions(undefined);
          setActs({});
        }}
      />
      {!isAll && <p class="quiet">These are the next courses; later ones are not listed.</p>}
      {booking.paidMinor > 0 && (
        <Field
          label={`Your fee for the change, up to ${moneyInText(booking.paidMinor)}`}
          figures
          required={false}
          value={fee}
          onChange={setFee}
          fault={
            feeMinor === null ? `Write an amount, for example ${majorUnits(1250, currency)}, or nothing.` : undefined
          }
        />
      )}
      {courseId !== '' && <Prices key={courseId} {...{ booking, courseId, concessions }} onChange={setConcessions} />}
      <SellingRules acts={acts} onActs={setActs} />
      <Moved
        {...{ booking, wish, formatter, onClose, method }}
        overrule={(refused) => <SellingRules {...{ acts, refused }} onActs={setActs} />}
        onMethod={setMethod}
      />
    </>
  );
}

/** "Two mugs, Tuesday 2 June, five places left" */
const called = (course: Course, { longDay, dayOf }: Formatter) => {
  const [first] = course.sessions;
  const day = first ? `, ${longDay(dayOf(first.startsAt))}` : '';
  return `${course.title}${day}, ${count(placesLeftOn(course), 'place')} left`;
};

type PricesProps = Pick<MovingProps, 'booking'> & {
  courseId: string;
  concessions: Wish['concessions'];
  onChange(concessions: Wish['concessions']): void;
};

/** Who pays a concession of the new course: one of the same name, until it is chosen otherwise. */
function Prices({ booking, courseId, concessions, onChange }: PricesProps) {
  const kinds = useConcessions(courseId);
  if (kinds.length === 0) return null;
  const same = booking.attendees.flatMap(({ personId, concession }) => {
    const kind = kinds.find(({ label }) => label === concession);
    return kind ? [{ attendeeId: personId, concessionId: kind.id }] : [];
  });
  const chosen = concessions ?? same;
  return (
    <div class="pairs">
      {booking.attendees.map(({ personId, name }) => (
        <Field
          key={personId}
          label={`Price for ${name}`}
          choices={[['', 'Full price'], ...kinds.map(({ id, label }) => [id, label] as const)]}
          value={chosen.find(({ attendeeId }) => attendeeId === personId)?.concessionId ?? ''}
          onChange={(id) => {
            const others = chosen.filter(({ attendeeId }) => attendeeId !== personId);
            onChange(id === '' ? others : [...others, { attendeeId: personId, concessionId: id }]);
          }}
        />
      ))}
    </div>
  );
}

type MovedProps = Props & {
  wish: Wish | null;
  method: Method;
  overrule(type: string): ComponentChildren;
  onMethod(method: Method): void;
};

function Moved({ booking, wish, formatter, onClose, method, overrule, onMethod }: MovedProps) {
  const params = { path: { bookingId: booking.id } };
  return (
    <PreviewedAction<Wish, Move>
      name={`move ${booking.id}`}
      wish={wish}
      ask={(body, signal) => api.POST('/api/bookings/{bookingId}/move/preview', { params, body, signal })}
      send={(body, headers) => api.POST('/api/bookings/{bookingId}/move', { params, body, headers })}
      save={({ outcome }) => saveOf(outcome, formatter)}
      onDone={(done) => {
        onClose();
        toast(
          <>
            <span>
              {booking.payerName}’s booking has moved to {done.courseTitle}.
            </span>
            {done.next && <OfferPlace courseId={done.from.courseId} name={done.next.name} formatter={formatter} />}
          </>,
        );
      }}
      onCancel={onClose}
      overrule={overrule}
    >
      {(outcome) => (
        <>
          <p>
            <b>{answerOf(outcome, formatter)}</b>
          </p>
          {outcome.refundMinor > outcome.onVoucherMinor && (
            <Field<Method>
              label="What was paid above the new price"
              choices={METHODS}
              value={method}
              onChange={onMethod}
            />
          )}
          <DataTable
            caption="What it comes to"
            columns={COLUMNS}
            rows={linesOf(outcome, formatter)}
            keyOf={({ what }) => what}
          />
          {outcome.lostConcessions.length > 0 && (
            <p>
              The new course has no such price, so the full price is asked:{' '}
              {listed(outcome.lostConcessions.map(({ name, concession }) => `${name} (${concession})`))}.
            </p>
          )}
          {outcome.next && (
            <p>
              Next on the waiting list of the old course: <b>{outcome.next.name}</b>, for{' '}
              {count(outcome.next.places, 'place')}.
            </p>
          )}
        </>
      )}
    </PreviewedAction>
  );
}

const backMinor = ({ refundMinor, creditMinor }: Move) => refundMinor - creditMinor;

function saveOf(outcome: Move, { moneyInText }: Formatter): string {
  return backMinor(outcome) > 0 ? `Move the booking, refund ${moneyInText(backMinor(outcome))}` : 'Move the booking';
}

/** What is more to pay, or what becomes of what was paid too much. */
function answerOf(outcome: Move, { moneyInText, dayOf, longDay, time }: Formatter): string {
  const { booking, creditMinor } = outcome;
  const said = [
    booking.owedMinor > 0 ? `${moneyInText(booking.owedMinor)} is still to pay` : 'Nothing more to pay',
    ...(backMinor(outcome) > 0 ? [`${moneyInText(backMinor(outcome))} goes back`] : []),
    ...(creditMinor > 0 ? [`${moneyInText(creditMinor)} stays as credit`] : []),
  ];
  const held = booking.heldUntil
    ? ` The place is held until ${longDay(dayOf(booking.heldUntil))} at ${time(booking.heldUntil)} for its deposit of ${moneyInText(booking.depositMinor - booking.paidMinor)}.`
    : '';
  return `${listed(said)}.${held}`;
}

type Line = { what: string; amount: string };
const COLUMNS: Column<Line>[] = [
  { head: 'What', cell: ({ what }) => what },
  { head: 'Amount', figures: true, cell: ({ amount }) => amount },
];

function linesOf(outcome: Move, { money, longDay }: Formatter): Line[] {
  const { priceBeforeMinor, paidMinor, carriedMinor, keptMinor, creditMinor, booking, stillDue } = outcome;
  const lines: (readonly [string, number] | false)[] = [
    ['Price until now', priceBeforeMinor],
    ['New price', booking.priceMinor],
    ['Paid so far', paidMinor],
    ['Carried over to the new course', carriedMinor],
    keptMinor > 0 && ['You keep', keptMinor],
    backMinor(outcome) > 0 && ['Goes back', backMinor(outcome)],
    creditMinor > 0 && ['Stays as credit', creditMinor],
    ...stillDue.map(({ dueOn, amountMinor }) => [`To pay by ${longDay(dueOn)}`, amountMinor] as const),
  ];
  return lines.filter((line) => line !== false).map(([what, minor]) => ({ what, amount: money(minor) }));
}

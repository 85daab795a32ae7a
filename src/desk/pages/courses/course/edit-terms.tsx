import { useCallback } from 'preact/hooks';
import { majorUnits } from '../../../../trade/money/money.js';
import { api, Refused, type Schemas } from '../../../api/client';
import { useOpened } from '../../../api/query';
import type { Formatter } from '../../../format/formatter';
import { Field } from '../../../forms/field';
import { Form } from '../../../forms/form';
import { limitOf } from '../../../forms/limits';
import { reader } from '../../../forms/parse';
import { Lines } from '../../../forms/repeated-fields';
import { type FormState, Unreadable, useForm } from '../../../forms/use-form';
import { DialogButton } from '../../../ui/dialog';
import { LookedUp } from '../../../ui/looked-up';
import type { Course } from '../labels';

type Terms = Schemas['CourseTerms'];
type Opened = { terms: Terms; etag: string };
type Props = { course: Course; formatter: Formatter };

/** Changes on what terms places are sold from now on: price, deposit, days of booking, ages. */
export function EditTerms(props: Props) {
  return (
    <DialogButton label="Edit terms" title={`Terms of ${props.course.title}`}>
      {(close) => <Reading {...props} onClose={close} />}
    </DialogButton>
  );
}

function Reading({ onClose, ...props }: Props & { onClose(): void }) {
  const courseId = props.course.id;
  const read = useCallback(
    async (signal: AbortSignal): Promise<Opened> => {
      const params = { path: { courseId } };
      const { data, response } = await api.GET('/api/courses/{courseId}/terms', { params, signal });
      if (!data) throw new Refused('unknown', 'The terms could not be loaded. Close this and open it again.');
      return { terms: data, etag: response.headers.get('etag') ?? '' };
    },
    [courseId],
  );
  const { opened, error } = useOpened({ key: ['terms', courseId], read });
  return (
    <LookedUp what="the terms" query={{ data: opened, error }}>
      {(found) => <Editing {...props} {...found} onClose={onClose} />}
    </LookedUp>
  );
}

type ConcessionLine = { key: string; label: string; price: string; atMost: string; payments: number | null };
const AMOUNTS = ['price', 'laterPrice', 'perHeadAbove', 'deposit'] as const;
type Values = Record<
  | (typeof AMOUNTS)[number]
  | 'laterFrom'
  | 'holdHours'
  | 'balanceDueDays'
  | 'balancePayments'
  | 'balanceEveryDays'
  | 'bookableFrom'
  | 'bookableUntil'
  | 'ageFrom'
  | 'ageTo'
  /** as JSON: what is typed in them is part of what is sent once */
  | 'concessions',
  string
>;

function valuesOf(terms: Terms, currency: string): Values {
  const money = (minor: number | null | undefined) => (minor == null ? '' : majorUnits(minor, currency));
  return {
    price: money(terms.priceMinor),
    laterPrice: money(terms.laterPrice?.priceMinor),
    laterFrom: terms.laterPrice?.from ?? '',
    perHeadAbove: money(terms.perHeadAboveMinor),
    deposit: money(terms.depositMinor),
    holdHours: `${terms.holdHours}`,
    balanceDueDays: `${terms.balanceDueDays}`,
    balancePayments: `${terms.balancePayments}`,
    balanceEveryDays: `${terms.balanceEveryDays}`,
    bookableFrom: terms.bookableFrom ?? '',
    bookableUntil: terms.bookableUntil ?? '',
    ageFrom: terms.ageFrom === null ? '' : `${terms.ageFrom}`,
    ageTo: terms.ageTo === null ? '' : `${terms.ageTo}`,
    concessions: JSON.stringify(terms.concessions.map((one) => lineOf(one, currency))),
  };
}

const linesIn = (values: Pick<Values, 'concessions'>) => JSON.parse(values.concessions) as ConcessionLine[];

const lineOf = (concession: Terms['concessions'][number], currency: string): ConcessionLine => ({
  ...{ key: crypto.randomUUID(), label: concession.label, payments: concession.payments },
  price: majorUnits(concession.priceMinor, currency),
  atMost: concession.atMost === null ? '' : `${concession.atMost}`,
});

type EditingProps = Props & Opened & { onClose(): void };

function Editing({ course, terms, etag, formatter, onClose }: EditingProps) {
  const { currency } = formatter;
  const form = useForm<Values>({
    initial: valuesOf(terms, currency),
    schema: 'CourseTermsInput',
    send: async (values, headers) =>
      api.PUT('/api/courses/{courseId}/terms', {
        ...{ params: { path: { courseId: course.id } }, body: bodyOf(values, currency) },
        headers: { ...headers, 'if-match': etag },
      }),
    onSaved: onClose,
  });
  return (
    <Form form={form} save="Save" onCancel={onClose}>
      <p>They hold for bookings from now on. What is booked keeps its price and its days of payment.</p>
      <Prices {...{ form, currency }} isPrivate={course.kind === 'private'} />
      {course.kind !== 'private' && (
        <Concessions
          lines={linesIn(form.values)}
          setLines={(lines) => form.set({ concessions: JSON.stringify(lines) })}
          currency={currency}
        />
      )}
      <div class="pairs">
        <Field label="Hold a place for, hours" figures="whole" {...form.field('holdHours')} />
        <Field label="Balance due, days before the start" figures="whole" {...form.field('balanceDueDays')} />
        <Field label="Balance in so many payments" figures="whole" {...form.field('balancePayments')} />
        <Field label="Days between them" figures="whole" {...form.field('balanceEveryDays')} />
      </div>
      <div class="pairs">
        <Field
          label="Booking opens on"
          hint="Left empty: now"
          type="date"
          {...form.field('bookableFrom')}
          required={false}
        />
        <Field
          label="Booking closes after"
          hint="Left empty: as it begins"
          type="date"
          {...form.field('bookableUntil')}
          required={false}
        />
        <Field label="Youngest age" hint="Left empty: any" figures {...form.field('ageFrom')} required={false} />
        <Field label="Oldest age" hint="Left empty: any" figures {...form.field('ageTo')} required={false} />
      </div>
    </Form>
  );
}

type PricesProps = { form: FormState<Values>; currency: string; isPrivate: boolean };

function Prices({ form, currency, isPrivate }: PricesProps) {
  return (
    <div class="pairs">
      <Field
        label={isPrivate ? `Price of the group, ${currency}` : `Price of a place, ${currency}`}
        figures
        {...form.field('price', '#/priceMinor')}
      />
      <Field
        label={`Later price, ${currency}`}
        hint="Left empty: it stays"
        figures
        {...form.field('laterPrice', '#/laterPrice/priceMinor')}
        required={false}
      />
      <Field
        label="Asked from this day on"
        type="date"
        {...form.field('laterFrom', '#/laterPrice/from')}
        required={false}
      />
      {isPrivate && (
        <Field
          label={`Each person above the group, ${currency}`}
          figures
          {...form.field('perHeadAbove', '#/perHeadAboveMinor')}
        />
      )}
      <Field label={`Deposit, ${currency}`} figures {...form.field('deposit', '#/depositMinor')} />
    </div>
  );
}

type ConcessionsProps = { lines: ConcessionLine[]; setLines(lines: ConcessionLine[]): void; currency: string };

function Concessions({ lines, setLines, currency }: ConcessionsProps) {
  return (
    <Lines<ConcessionLine>
      list="concessions"
      legend="Concessions"
      called="Concession"
      lines={lines}
      add={{
        label: 'Add a concession',
        line: () => ({ key: crypto.randomUUID(), label: '', price: '', atMost: '', payments: null }),
      }}
      most={limitOf('CourseTermsInput', '#/concessions').maxItems ?? 0}
      none="All places are sold at the full price."
      onLines={setLines}
    >
      {(line, change, i) => (
        <div class="pairs">
          <Field
            at={`#/concessions/${i}/label`}
            label="For whom"
            value={line.label}
            onChange={(label) => change({ label })}
          />
          <Field
            at={`#/concessions/${i}/priceMinor`}
            label={`Price, ${currency}`}
            figures
            value={line.price}
            onChange={(price) => change({ price })}
          />
          <Field
            at={`#/concessions/${i}/atMost`}
            label="Places at most"
            hint="Left empty: all"
            figures
            required={false}
            value={line.atMost}
            onChange={(atMost) => change({ atMost })}
          />
        </div>
      )}
    </Lines>
  );
}

function bodyOf(values: Values, currency: string): Terms {
  const { text, whole, money, wrong, faults } = reader(currency, (pointer) => limitOf('CourseTermsInput', pointer));
  const wholeOrNull = (pointer: string, typed: string) => (typed.trim() === '' ? null : whole(pointer, typed));
  const hasLater = values.laterPrice.trim() !== '' || values.laterFrom !== '';
  if (hasLater && values.laterFrom === '') wrong('/laterPrice/from', 'Give the day, or leave both empty.');
  const body: Terms = {
    priceMinor: money('/priceMinor', values.price),
    laterPrice: hasLater
      ? { from: values.laterFrom, priceMinor: money('/laterPrice/priceMinor', values.laterPrice) }
      : null,
    perHeadAboveMinor: values.perHeadAbove === '' ? null : money('/perHeadAboveMinor', values.perHeadAbove),
    concessions: linesIn(values).map(({ label, price, atMost, payments }, i) => ({
      label: text(`/concessions/${i}/label`, label),
      priceMinor: money(`/concessions/${i}/priceMinor`, price),
      atMost: wholeOrNull(`/concessions/${i}/atMost`, atMost),
      payments,
    })),
    depositMinor: values.deposit.trim() === '' ? 0 : money('/depositMinor', values.deposit),
    holdHours: whole('/holdHours', values.holdHours),
    balanceDueDays: whole('/balanceDueDays', values.balanceDueDays),
    balancePayments: whole('/balancePayments', values.balancePayments),
    balanceEveryDays: whole('/balanceEveryDays', values.balanceEveryDays),
    bookableFrom: values.bookableFrom || null,
    bookableUntil: values.bookableUntil || null,
    ageFrom: wholeOrNull('/ageFrom', values.ageFrom),
    ageTo: wholeOrNull('/ageTo', values.ageTo),
  };
  if (faults.length > 0) throw new Unreadable(faults);
  return body;
}

import type { Schemas } from '../api/client';
import type { Headers } from '../api/idempotency-key';
import type { Formatter } from '../format/formatter';
import type { FieldProps } from '../forms/field';
import { type Limited, limitOf } from '../forms/limits';
import { type Reader, reader } from '../forms/parse';
import { Unreadable } from '../forms/use-form';
import type { Column } from '../ui/data-table';

export type Values = Record<string, string>;
export type Context = { formatter: Formatter; today: string };
type AssumptionKind = Schemas['Assumption']['kind'];

export type FieldSpec = Pick<
  FieldProps<string>,
  'label' | 'hint' | 'choices' | 'figures' | 'lines' | 'type' | 'required'
> & {
  name: string;
  /** its pointer in the API's request, where that is not its name */
  at?: string;
  /** a figure that is an assumption as long as it is the usual one, and of what */
  assumed?: AssumptionKind;
  /** where several things are added at once: the figure is that of the first (0), the second (1) */
  of?: number;
  /** seldom changed, and shown behind "More" */
  more?: boolean;
};

/** What was added, and the ids of what its figures are kept in. */
export type Added<T> = { item: T; ids: Partial<Record<AssumptionKind, string[]>> };

/** One kind of thing that a studio is made of: how it is listed, added and changed. */
export type Basic<T> = {
  /** in the middle of a sentence: "room", "rooms" */
  one: string;
  many: string;
  /** the request's schema, from which lengths and required fields follow */
  schema: Limited;
  /** what to mind when it is used */
  caution?: string;
  /** what a change does not reach, in one sentence: it stands beside the button that saves it */
  reach?: string;
  fields(values: Values, context: Context, editing: boolean): FieldSpec[];
  /** what a new one begins with */
  usual(context: Context): Values;
  valuesOf(item: T, context: Context): Values;
  /** @throws {Unreadable} where something typed can't be read */
  add(values: Values, headers: Headers, context: Context): Promise<Added<T>>;
  /** One of them with the tag of what was read; absent where it can't be changed. */
  open?(id: string): Promise<Opened<T>>;
  change?(item: T, values: Values, headers: Headers & { 'if-match': string }, context: Context): Promise<T>;
  /** Takes one away that nothing refers to; absent where the API never does. */
  remove?(id: string, headers: Headers): Promise<unknown>;
  list(): Promise<T[]>;
  columns(context: Context): Column<T>[];
};

export type Opened<T> = { item: T; etag: string };

/** Reads what is typed for a request, or says which fields can't be read. */
export function readTyped<B>(context: Context, request: Limited, read: (reader: Reader) => B): B {
  const typed = reader(context.formatter.currency, (pointer) => limitOf(request, pointer));
  const body = read(typed);
  if (typed.faults.length > 0) throw new Unreadable(typed.faults);
  return body;
}

/** The answer of the API, which openapi-fetch types as if it could be missing. */
export function answered<T>({ data }: { data?: T | undefined }): T {
  if (data === undefined) throw new Error('The server did not answer. Load the page again.');
  return data;
}

export function openedFrom<T>({ data, response }: { data?: T | undefined; response: Response }): Opened<T> {
  return { item: answered({ data }), etag: response.headers.get('etag') ?? '' };
}

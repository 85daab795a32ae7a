import { createContext, type Ref } from 'preact';
import { useContext, useId } from 'preact/hooks';

/** What is wrong, by the field's pointer in the API: "#/sessions/0/minutes". A form provides it for the fields inside. */
export const Faults = createContext<ReadonlyMap<string, string>>(new Map());

/** What tells the fields of one form from those of another on the same page, in their ids. */
export const Scope = createContext('');

/** The id of the control that stands for a pointer: "#/sessions/0/minutes" is reached as "at-sessions-0-minutes". */
export const idOf = (pointer: string, scope = ''): string =>
  `at${scope}${pointer.replace('#', '').replaceAll('/', '-')}`;

export type FieldProps<T extends string> = {
  label: string;
  /** its pointer in the API's request, by which a fault finds it */
  at?: string | undefined;
  /** its name in a form that is read as FormData */
  name?: string;
  hint?: string | undefined;
  /** what is wrong with it, where no pointer says so */
  fault?: string | undefined;
  type?: 'text' | 'email' | 'password' | 'search' | 'date' | 'time';
  /** figures bring up a keypad on a phone, whole ones without a point */
  figures?: boolean | 'whole';
  /** lines one under another */
  lines?: boolean;
  /** one of these instead of free text: value and what it is called */
  choices?: readonly (readonly [T, string])[] | undefined;
  /** further choices under headings of their own */
  groups?: readonly { label: string; choices: readonly (readonly [T, string])[] }[];
  /** with `onChange` what it shows; without, what it begins with */
  value?: T | undefined;
  onChange?(value: T): void;
  /** takes the room of two, as names do */
  wide?: boolean;
  autocomplete?: string;
  required?: boolean;
  maxLength?: number | undefined;
  pattern?: string;
  /** what the browser says where the pattern is not met */
  title?: string;
  readOnly?: boolean;
  /** the input itself, for whoever marks what is in it */
  control?: Ref<HTMLInputElement>;
};

/** A labelled control with its hint and, where it was refused, what is wrong. */
export function Field<T extends string = string>(props: FieldProps<T>) {
  const own = useId();
  const { label, hint, at, lines, wide } = props;
  const scope = useContext(Scope);
  const id = at ? idOf(at, scope) : own;
  const faults = useContext(Faults);
  const fault = props.fault ?? (at ? faults.get(at) : undefined);
  const described = [hint && `${id}-hint`, fault && `${id}-fault`].filter(Boolean).join(' ') || undefined;
  const isSaidAtOnce = props.onChange && !at; // what a form refuses is said once, by the form
  return (
    <div class={lines ? 'field whole' : wide ? 'field wide' : 'field'}>
      <label for={id}>{label}</label>
      {hint && <small id={`${id}-hint`}>{hint}</small>}
      <Control {...props} {...{ id, fault, described }} />
      {fault && (
        <small class="iron" id={`${id}-fault`} role={isSaidAtOnce ? 'alert' : undefined}>
          {fault}
        </small>
      )}
    </div>
  );
}

type ControlProps<T extends string> = FieldProps<T> & { id: string; described: string | undefined };

function Control<T extends string>({ id, described, ...props }: ControlProps<T>) {
  const { name, value, choices, lines, fault, type = 'text', figures, autocomplete = 'off', onChange } = props;
  const { control, pattern, title, readOnly } = props;
  const shared = {
    ...{ id, name, required: props.required, maxLength: props.maxLength },
    'aria-describedby': described,
    'aria-invalid': fault ? (true as const) : undefined,
  };
  const shown = onChange ? { value } : { defaultValue: value };
  const typed = onChange && {
    onInput: (event: { currentTarget: { value: string } }) => onChange(event.currentTarget.value as T),
  };
  if (choices) return <Select {...props} {...{ id, described, choices }} />;
  if (lines) return <textarea {...shared} {...shown} {...typed} rows={3} />;
  return (
    <input
      {...shared}
      {...shown}
      {...typed}
      {...{ ref: control, pattern, title, readOnly, autocomplete }}
      type={type as 'text'}
      inputMode={figures === 'whole' ? 'numeric' : figures ? 'decimal' : undefined}
    />
  );
}

type SelectProps<T extends string> = ControlProps<T> & Required<Pick<FieldProps<T>, 'choices'>>;

function Select<T extends string>(props: SelectProps<T>) {
  const { id, name, required, described, fault, value, onChange, choices, groups = [] } = props;
  const options = (of: typeof choices) =>
    of?.map(([key, called]) => (
      <option key={key} value={key} selected={key === value}>
        {called}
      </option>
    ));
  return (
    <select
      {...{ id, name, required, value: onChange ? value : undefined }}
      aria-describedby={described}
      aria-invalid={fault ? (true as const) : undefined}
      onChange={onChange && (({ currentTarget }) => onChange(currentTarget.value as T))}
    >
      {options(choices)}
      {groups.map(({ label, choices }) => (
        <optgroup key={label} label={label}>
          {options(choices)}
        </optgroup>
      ))}
    </select>
  );
}

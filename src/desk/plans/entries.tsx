import { type ComponentChildren, createContext } from 'preact';
import { useContext } from 'preact/hooks';

/** What is wrong, by the field's name in the API: "#/sessions/0/minutes". */
export const Faults = createContext<ReadonlyMap<string, string>>(new Map());

/** The id of the control that stands for a field: "#/sessions/0/minutes" is reached as "at-sessions-0-minutes". */
export const idOf = (pointer: string): string => `at${pointer.replace('#', '').replaceAll('/', '-')}`;

type About = {
  at: string;
  label: string;
  hint?: string | undefined;
  /** takes the room of two, as names do */
  wide?: boolean;
};

/** What is said of a control, and the attributes that tie it to what is said. */
function useFault(at: string, hint: string | undefined) {
  const id = idOf(at);
  const fault = useContext(Faults).get(at);
  const describedBy = [hint && `${id}-hint`, fault && `${id}-fault`].filter(Boolean).join(' ') || undefined;
  return {
    id,
    fault,
    tied: { id, 'aria-describedby': describedBy, 'aria-invalid': fault ? (true as const) : undefined },
  };
}

type AroundProps = About & { id: string; fault: string | undefined; children: ComponentChildren };

function Around({ id, label, hint, wide, fault, children }: AroundProps) {
  return (
    <div class={wide ? 'field wide' : 'field'}>
      <label for={id}>{label}</label>
      {children}
      {hint && <small id={`${id}-hint`}>{hint}</small>}
      {fault && (
        <small class="iron" id={`${id}-fault`}>
          {fault}
        </small>
      )}
    </div>
  );
}

type TypedProps = About & { value: string; onType(typed: string): void; words?: boolean };

/** Figures, unless `words` says otherwise; whoever owns the text keeps it, so that none is lost. */
export function Typed({ value, onType, words = false, ...about }: TypedProps) {
  const { id, fault, tied } = useFault(about.at, about.hint);
  return (
    <Around {...about} {...{ id, fault }}>
      <input
        {...tied}
        inputMode={words ? undefined : 'decimal'}
        autocomplete="off"
        value={value}
        onInput={({ currentTarget }) => onType(currentTarget.value)}
      />
    </Around>
  );
}

type ChosenProps<T extends string> = About & {
  value: T;
  choices: readonly (readonly [T, string])[];
  onChoose(value: T): void;
};

export function Chosen<T extends string>({ value, choices, onChoose, ...about }: ChosenProps<T>) {
  const { id, fault, tied } = useFault(about.at, about.hint);
  return (
    <Around {...about} {...{ id, fault }}>
      <select {...tied} value={value} onChange={({ currentTarget }) => onChoose(currentTarget.value as T)}>
        {choices.map(([key, called]) => (
          <option key={key} value={key}>
            {called}
          </option>
        ))}
      </select>
    </Around>
  );
}

import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

type Props = {
  label: string;
  name: string;
  hint?: string | undefined;
  fault?: string | undefined;
  type?: 'text' | 'email' | 'password';
  /** figures bring up a keypad on a phone */
  figures?: boolean;
  /** lines one under another */
  lines?: boolean;
  /** one of these instead of free text: value and what it is called */
  choices?: readonly (readonly [string, string])[] | undefined;
  value?: string | undefined;
  autocomplete?: string;
  required?: boolean;
};

/** A labelled control with its hint and, where the server refused it, what is wrong. */
export function Field(props: Props) {
  const id = useId();
  const { label, hint, fault, lines } = props;
  const described = [hint && `${id}-hint`, fault && `${id}-fault`].filter(Boolean).join(' ') || undefined;
  return (
    <div class={lines ? 'field whole' : 'field'}>
      <label for={id}>{label}</label>
      {hint && <small id={`${id}-hint`}>{hint}</small>}
      <Control {...props} id={id} described={described} />
      {fault && (
        <small class="iron" id={`${id}-fault`}>
          {fault}
        </small>
      )}
    </div>
  );
}

function Control({ id, described, ...props }: Props & { id: string; described: string | undefined }) {
  const { name, required = true, value, choices, lines, fault, type = 'text', figures, autocomplete = 'off' } = props;
  const shared = {
    ...{ id, name, required },
    'aria-describedby': described,
    'aria-invalid': fault ? (true as const) : undefined,
  };
  if (choices)
    return (
      <select {...shared}>
        {choices.map(([key, called]) => (
          <option key={key} value={key} selected={key === value}>
            {called}
          </option>
        ))}
      </select>
    );
  if (lines) return <textarea {...shared} rows={3} defaultValue={value} />;
  return (
    <input
      {...shared}
      type={type as 'text'}
      inputMode={figures ? 'decimal' : undefined}
      defaultValue={value}
      autocomplete={autocomplete}
    />
  );
}

export function Fault({ children }: { children: ComponentChildren }) {
  return (
    <p class="fault" role="alert">
      {children}
    </p>
  );
}

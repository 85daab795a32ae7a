import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

type Props = {
  label: string;
  name: string;
  hint?: string;
  fault?: string | undefined;
  type?: 'text' | 'email' | 'password';
  value?: string | undefined;
  autocomplete?: string;
  required?: boolean;
};

/** A labelled input with its hint and, where the server refused it, what is wrong. */
export function Field({
  label,
  name,
  hint,
  fault,
  type = 'text',
  value,
  autocomplete = 'off',
  required = true,
}: Props) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {hint && <small id={`${id}-hint`}>{hint}</small>}
      <input
        {...{ id, name, required }}
        type={type as 'text'}
        defaultValue={value}
        autocomplete={autocomplete}
        aria-describedby={`${hint ? `${id}-hint` : ''} ${fault ? `${id}-fault` : ''}`.trim() || undefined}
        aria-invalid={fault ? true : undefined}
      />
      {fault && (
        <small class="iron" id={`${id}-fault`}>
          {fault}
        </small>
      )}
    </div>
  );
}

export function Fault({ children }: { children: ComponentChildren }) {
  return (
    <p class="fault" role="alert">
      {children}
    </p>
  );
}

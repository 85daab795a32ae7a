import { useId } from 'preact/hooks';

type Props = {
  called: string;
  value: string;
  fault?: string | undefined;
  hint?: string | undefined;
  figures?: boolean;
  onTyped(typed: string): void;
};

/** A line to type in, with what is wrong with it. */
export function TypedField({ called, value, fault, hint, figures = false, onTyped }: Props) {
  const id = useId();
  const described = [hint && `${id}-hint`, fault && `${id}-fault`].filter(Boolean).join(' ') || undefined;
  return (
    <div class="field">
      <label for={id}>{called}</label>
      {hint && <small id={`${id}-hint`}>{hint}</small>}
      <input
        {...{ id, value }}
        type="text"
        inputMode={figures ? 'decimal' : undefined}
        autocomplete="off"
        aria-describedby={described}
        aria-invalid={fault ? true : undefined}
        onInput={({ currentTarget }) => onTyped(currentTarget.value)}
      />
      {fault && (
        <small class="iron" id={`${id}-fault`} role="alert">
          {fault}
        </small>
      )}
    </div>
  );
}

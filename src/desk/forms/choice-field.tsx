import { useId } from 'preact/hooks';

type Props<T extends string> = {
  legend: string;
  /** value and what it is called */
  choices: readonly (readonly [T, string])[];
  value: T | null;
  onChange: (value: T) => void;
  /** one under another rather than beside each other */
  stacked?: boolean;
};

/** One of a few, all of them in sight. */
export function ChoiceField<T extends string>({ legend, choices, value, onChange, stacked = false }: Props<T>) {
  const name = useId();
  return (
    <fieldset class={stacked ? undefined : 'picks'}>
      <legend>{legend}</legend>
      {choices.map(([key, called]) => (
        <label key={key} class="pick">
          <input type="radio" name={name} checked={key === value} onChange={() => onChange(key)} />
          <span>{called}</span>
        </label>
      ))}
    </fieldset>
  );
}

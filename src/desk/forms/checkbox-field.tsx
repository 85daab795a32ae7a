import type { ComponentChildren } from 'preact';

type Props = {
  checked: boolean;
  onChange(checked: boolean): void;
  /** its label: what is so when it is ticked */
  children: ComponentChildren;
};

/** One thing that is so or not; the whole line can be pressed. */
export const CheckboxField = ({ checked, onChange, children }: Props) => (
  <label class="pick">
    <input type="checkbox" checked={checked} onChange={({ currentTarget }) => onChange(currentTarget.checked)} />
    <span>{children}</span>
  </label>
);

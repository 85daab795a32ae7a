import type { ComponentChildren } from 'preact';
import { useMemo } from 'preact/hooks';
import { Faults, idOf, Scope } from './field';
import { FormErrors } from './form-errors';
import type { FieldFault } from './parse';

type Sent = { submit(event: Event): void; faults: FieldFault[]; busy: boolean; error: string };
type Props = {
  form: Sent;
  /** on the button: "Save", "Add room" */
  save: string;
  onCancel?(): void;
  /** where another button of the page is the one to press next */
  quiet?: boolean;
  /** where several forms share a page: what tells the ids of this one's fields from the others' */
  scope?: string;
  children: ComponentChildren;
};

/** Fields with one filled button; faults stand beside their fields and above the button, with a link to each. */
export function Form({ form, save, onCancel, quiet = false, scope = '', children }: Props) {
  const faults = useMemo(() => new Map(form.faults.map(({ pointer, detail }) => [pointer, detail])), [form.faults]);
  return (
    <form class="noun-form" onSubmit={form.submit} noValidate={false}>
      <Scope.Provider value={scope}>
        <Faults.Provider value={faults}>{children}</Faults.Provider>
        {form.error && (
          <FormErrors error={form.error} faults={form.faults} labelOf={(pointer) => labelAt(pointer, scope)} />
        )}
      </Scope.Provider>
      <p class="acts">
        <button type="submit" class={quiet ? 'quiet' : undefined} aria-disabled={form.busy}>
          {save}
        </button>
        {onCancel && (
          <button type="button" class="quiet" onClick={onCancel}>
            Cancel
          </button>
        )}
      </p>
    </form>
  );
}

/** What the label of a field says; its pointer where the form shows no such field. */
function labelAt(pointer: string, scope: string): string {
  const id = idOf(pointer, scope);
  return document.querySelector(`label[for="${CSS.escape(id)}"]`)?.textContent ?? pointer.replace('#/', '');
}

import { Field } from '../forms/field';
import type { FormState } from '../forms/use-form';
import type { FieldSpec, Values } from './basic';

type Props = { specs: readonly FieldSpec[]; form: FormState<Values> };

/** The fields of a form; those seldom changed stand behind "More", which opens where one of them was refused. */
export function BasicFields({ specs, form }: Props) {
  const field = ({ name, at, assumed: _, more: __, of: ___, required, ...spec }: FieldSpec) => {
    const wired = form.field(name, at ?? `#/${name}`);
    return (
      <Field key={name} {...spec} {...wired} value={form.values[name] ?? ''} required={required ?? wired.required} />
    );
  };
  const rest = specs.filter(({ more }) => more);
  const refused = rest.some(({ name, at }) => form.faults.some(({ pointer }) => pointer === (at ?? `#/${name}`)));
  return (
    <>
      <div class="pairs">{specs.filter(({ more }) => !more).map(field)}</div>
      {rest.length > 0 && (
        <details open={refused || undefined}>
          <summary>More</summary>
          <div class="pairs">{rest.map(field)}</div>
        </details>
      )}
    </>
  );
}

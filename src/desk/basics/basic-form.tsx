import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { Refused } from '../api/client';
import { Form } from '../forms/form';
import { useForm } from '../forms/use-form';
import type { Basic, Context, FieldSpec, Opened, Values } from './basic';
import { BasicFields } from './basic-fields';
import { addNoting } from './note-assumptions';

type Props<T> = {
  basic: Basic<T>;
  context: Context;
  /** what is changed; without it one is added */
  opened?: Opened<T>;
  save: string;
  onSaved(item: T): void;
  /** for a page that saves several forms at once */
  onTyped?(values: Values): void;
  onCancel?(): void;
  /** where another button of the page is the one to press next */
  quiet?: boolean;
};

/** One thing to add or to change. Where somebody else changed it meanwhile, what they saved is shown, and what was typed stays. */
export function BasicForm<T extends { id: string }>({ basic, context, opened, save, quiet, ...does }: Props<T>) {
  const [meanwhile, setMeanwhile] = useState<string[]>([]);
  const current = useRef(opened);
  const scope = useId(); // several may be open on a page
  const saved = useRef<T | null>(null);
  const specsOf = (values: Values) => basic.fields(values, context, opened !== undefined);
  const compare = async (values: Values, id: string) => {
    const now = await basic.open?.(id);
    if (!now || !current.current) return;
    const before = basic.valuesOf(current.current.item, context);
    current.current = now;
    setMeanwhile(changedMeanwhile(specsOf, values, before, basic.valuesOf(now.item, context)));
  };
  const form = useForm<Values>({
    initial: opened ? basic.valuesOf(opened.item, context) : basic.usual(context),
    schema: basic.schema,
    send: async (values, headers) => {
      if (!current.current || !basic.change) {
        saved.current = (await addNoting(basic, values, headers, context)).item;
        return;
      }
      const { item, etag } = current.current;
      try {
        saved.current = await basic.change(item, values, { ...headers, 'if-match': etag }, context);
      } catch (error) {
        if (!(error instanceof Refused) || error.type !== '/problems/changed-meanwhile') throw error;
        await compare(values, item.id);
        throw new Refused(
          error.type,
          `Nothing was saved yet: somebody else changed this ${basic.one}. Look at what it says now, put in what should count, and save again.`,
        );
      }
    },
    onSaved: () => saved.current && does.onSaved(saved.current),
  });
  useEffect(() => does.onTyped?.(form.values), [form.values]);
  return (
    <Form
      form={form}
      save={save}
      scope={scope}
      quiet={quiet === true}
      {...(does.onCancel && { onCancel: does.onCancel })}
    >
      <BasicFields specs={specsOf(form.values)} form={form} />
      {meanwhile.map((line) => (
        <p class="amber" key={line}>
          {line}
        </p>
      ))}
      {basic.caution && <p class="quiet">{basic.caution}</p>}
      {opened && basic.reach && <p class="quiet">{basic.reach}</p>}
    </Form>
  );
}

/** What somebody else changed since the form was opened and is not what is typed, field by field; lines they added are named too. */
function changedMeanwhile(specsOf: (values: Values) => FieldSpec[], typed: Values, before: Values, theirs: Values) {
  const specs = new Map([...specsOf(theirs), ...specsOf(typed)].map((spec) => [spec.name, spec]));
  const text = (values: Values, name: string) => (values[name] ?? '').trim();
  return [...specs.values()].flatMap(({ name, label, choices }) => {
    const now = text(theirs, name);
    if (now === text(before, name) || now === text(typed, name)) return [];
    return `${label} is now: ${choices?.find(([key]) => key === now)?.[1] ?? (now || 'empty')}`;
  });
}

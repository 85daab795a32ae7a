import { useState } from 'preact/hooks';
import { Refused } from '../api/client';
import { useMutation } from '../api/use-mutation';
import type { FieldProps } from './field';
import { type Limited, limitOf } from './limits';
import type { FieldFault } from './parse';

type Headers = { 'idempotency-key': string };

/** Thrown by a form's `send` where what is typed can't be read; each fault by the pointer of its field. */
export class Unreadable extends Error {
  constructor(readonly faults: FieldFault[]) {
    super('Please correct what is marked.');
  }
}

type Options<V> = {
  /** what the fields begin with, all as text */
  initial: V;
  /** the request's schema, from which lengths and required fields follow */
  schema: Limited;
  /** Sends what is typed. @throws {Unreadable} where it can't be read; a refusal of the API is shown beside its fields */
  send(values: V, headers: Headers): Promise<unknown>;
  onSaved?(values: V): void;
};

export type FormState<V> = ReturnType<typeof useForm<V & Record<string, string>>>;

/** A form's text, its faults by pointer, and sending it: once, however often the button is pressed. Nothing typed is lost. */
export function useForm<V extends Record<string, string>>({ initial, schema, send, onSaved }: Options<V>) {
  const [values, setValues] = useState(initial);
  const [faults, setFaults] = useState<FieldFault[]>([]);
  const mutation = useMutation({ thenRead: true });
  const set = (change: Partial<V>) => setValues((before) => ({ ...before, ...change }));
  /** The attributes of a field: `<Field label="Name" {...form.field('name')} />`. */
  const field = <K extends keyof V & string>(name: K, pointer = `#/${name}`) => {
    const { required = false, maxLength } = limitOf(schema, pointer);
    const onChange = (value: V[K]) => set({ [name]: value } as unknown as Partial<V>);
    return { at: pointer, value: values[name], onChange, required, maxLength } satisfies Partial<FieldProps<V[K]>>;
  };
  const submit = async (event?: Event) => {
    event?.preventDefault();
    setFaults([]);
    const saved = await mutation.run(values, async (headers) => {
      try {
        await send(values, headers);
      } catch (error) {
        if (error instanceof Refused || error instanceof Unreadable) setFaults(error.faults);
        throw error;
      }
    });
    if (saved) onSaved?.(values);
  };
  const reset = (to: V = initial) => {
    setValues(to);
    setFaults([]);
  };
  return { values, set, field, submit, reset, faults, busy: mutation.busy, error: mutation.error };
}

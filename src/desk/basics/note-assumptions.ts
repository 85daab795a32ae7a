import { api, type Schemas } from '../api/client';
import { further, type Headers } from '../api/idempotency-key';
import type { Added, Basic, Context, FieldSpec, Values } from './basic';

type Kind = Schemas['Assumption']['kind'];
/** Keys of the notes are told from those of what was added before them. */
const FIRST_KEY = 100;

/** Adds one, and notes which of its figures were left at what is usual: until somebody says better they are assumptions. */
export async function addNoting<T>(
  basic: Basic<T>,
  values: Values,
  headers: Headers,
  context: Context,
): Promise<Added<T>> {
  const added = await basic.add(values, headers, context);
  const usual = basic.usual(context);
  const left = basic
    .fields(values, context, false)
    .filter(({ name, assumed }) => assumed && name in usual && (values[name] ?? '').trim() === usual[name]);
  let key = FIRST_KEY;
  for (const [kind, ids] of Object.entries(added.ids) as [Kind, string[]][])
    for (const [i, subjectId] of ids.entries()) {
      const own = left.filter(({ assumed, of = i }) => assumed === kind && of === i);
      if (own.length === 0) continue;
      const body = { kind, subjectId, figures: own.map((spec) => inWords(spec, values)) };
      await api.POST('/api/assumptions', { body, headers: further(headers, key++) });
    }
  return added;
}

/** "How full it usually is, percent: 60", as it was shown when it was left so. */
function inWords({ name, label, choices }: FieldSpec, values: Values): string {
  const value = values[name] ?? '';
  const shown = choices?.find(([key]) => key === value)?.[1] ?? value.trim();
  return shown === '' ? label : `${label}: ${shown}`;
}

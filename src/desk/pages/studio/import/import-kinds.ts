import { api, Refused, type Schemas } from '../../../api/client';
import { count } from '../../../format/formatter';

export type Kind = 'people' | 'materials' | 'lots';
export type Checked = Schemas['ImportCheck'];
type Columns = Schemas['ImportColumns'];
export type Choice = { kind: Kind; columns: Columns['columns']; rowsMax: number };

const KINDS = [
  ['people', 'people:write'],
  ['materials', 'stock:write'],
  ['lots', 'money:write'],
] as const satisfies readonly (readonly [Kind, Schemas['Me']['rights'][number]])[];

export const CALLED: Record<Kind, string> = {
  people: 'People',
  materials: 'Materials',
  lots: 'What is on the shelf, lot by lot',
};

/** "one person", "12 lots". */
export const counted = (number: number, kind: Kind): string =>
  ({
    people: count(number, 'person', 'people'),
    materials: count(number, 'material'),
    lots: count(number, 'lot'),
  })[kind];

/** The kinds that somebody may bring, each with its columns. */
export function readKinds(me: Schemas['Me']): Promise<Choice[]> {
  const allowed = KINDS.filter(([, right]) => me.rights.includes(right));
  return Promise.all(
    allowed.map(async ([kind]) => {
      const { data } = await api.GET(`/api/imports/${kind}`);
      if (!data) throw new Refused('unknown', 'The server does not say what a list holds. Load the page again.');
      return { kind, ...data };
    }),
  );
}

/** The file as it is: whether its signs can be read is for the server to say. */
const asFile = (file: File) => ({ bodySerializer: () => file, headers: { 'content-type': 'text/csv' } });

export async function checkList(kind: Kind, file: File): Promise<Checked> {
  const { data } = await api.POST(`/api/imports/${kind}/check`, { body: file.name, ...asFile(file) });
  if (!data)
    throw new Refused('unknown', 'The server does not say what is in the list. Nothing was changed; try again.');
  return data;
}

export async function importList(kind: Kind, file: File, key: { 'idempotency-key': string }): Promise<number> {
  const sent = asFile(file);
  const { data } = await api.POST(`/api/imports/${kind}`, {
    ...{ body: file.name, bodySerializer: sent.bodySerializer, headers: { ...sent.headers, ...key } },
  });
  return data?.added ?? 0;
}

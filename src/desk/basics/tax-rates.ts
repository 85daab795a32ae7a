import { api, type Schemas } from '../api/client';
import { answered, type Basic, type Context, openedFrom, readTyped, type Values } from './basic';

type TaxRate = Schemas['TaxRate'];
const KINDS = [
  ['standard', 'taxed'],
  ['exempt', 'exempt'],
  ['outside', 'outside VAT'],
] as const;

function bodyOf(values: Values, context: Context): Schemas['NewTaxRateInput'] {
  const kind = values.kind as TaxRate['kind'];
  return readTyped(context, 'NewTaxRateInput', (read) => ({
    name: read.text('/name', values.name ?? ''),
    kind,
    percent: kind === 'standard' ? read.decimal('/percent', values.percent ?? '') : null,
  }));
}
const at = (taxRateId: string) => ({ params: { path: { taxRateId } } });

export const TAX_RATES: Basic<TaxRate> = {
  ...{ one: 'VAT rate', many: 'VAT rates', schema: 'NewTaxRateInput' },
  caution: 'Which rate or exemption fits is your choice, with your accountant.',
  reach: 'What you have charged keeps its VAT: a change counts for what you charge from now on.',
  fields: ({ kind }) => [
    { name: 'name', label: 'Name', hint: 'For example, Tuition, exempt.' },
    { name: 'kind', label: 'What is sold at it is', choices: KINDS },
    ...(kind === 'standard' ? [{ name: 'percent', label: 'Percent', figures: true, required: true }] : []),
  ],
  usual: () => ({ name: '', kind: 'standard', percent: '20' }),
  valuesOf: ({ name, kind, percent }) => ({ name, kind, percent: percent ?? '' }),
  add: async (values, headers, context) => ({
    item: answered(await api.POST('/api/tax-rates', { body: bodyOf(values, context), headers })),
    ids: {},
  }),
  open: async (id) => openedFrom(await api.GET('/api/tax-rates/{taxRateId}', at(id))),
  change: async ({ id }, values, headers, context) =>
    answered(await api.PUT('/api/tax-rates/{taxRateId}', { ...at(id), body: bodyOf(values, context), headers })),
  remove: (id, headers) => api.POST('/api/tax-rates/{taxRateId}/removal', { ...at(id), headers }),
  list: async () => answered(await api.GET('/api/tax-rates')).items,
  columns: () => [
    { head: 'VAT rate', cell: ({ name }) => name },
    { head: 'Kind', cell: ({ kind }) => KINDS.find(([key]) => key === kind)?.[1] },
    { head: 'Percent', cell: ({ percent }) => (percent === null ? '' : `${percent}%`), figures: true },
  ],
};

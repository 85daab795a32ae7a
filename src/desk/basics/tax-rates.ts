import { api, type Schemas } from '../api/client';
import { answered, type Basic, readTyped } from './basic';

type TaxRate = Schemas['TaxRate'];
const KINDS = [
  ['standard', 'taxed'],
  ['exempt', 'exempt'],
  ['outside', 'outside VAT'],
] as const;

export const TAX_RATES: Basic<TaxRate> = {
  ...{ one: 'VAT rate', many: 'VAT rates', schema: 'NewTaxRateInput' },
  caution: 'Which rate or exemption fits is your choice, with your accountant.',
  fields: ({ kind }) => [
    { name: 'name', label: 'Name', hint: 'For example, Tuition, exempt.' },
    { name: 'kind', label: 'What is sold at it is', choices: KINDS },
    ...(kind === 'standard' ? [{ name: 'percent', label: 'Percent', figures: true, required: true }] : []),
  ],
  usual: () => ({ name: '', kind: 'standard', percent: '20' }),
  valuesOf: ({ name, kind, percent }) => ({ name, kind, percent: percent ?? '' }),
  add: async (values, headers, context) => {
    const kind = values.kind as TaxRate['kind'];
    const body = readTyped(context, (read) => ({
      name: read.text('/name', values.name ?? ''),
      kind,
      percent: kind === 'standard' ? read.decimal('/percent', values.percent ?? '') : null,
    }));
    return { item: answered(await api.POST('/api/tax-rates', { body, headers })), ids: {} };
  },
  list: async () => answered(await api.GET('/api/tax-rates')).items,
  columns: () => [
    { head: 'VAT rate', cell: ({ name }) => name },
    { head: 'Kind', cell: ({ kind }) => KINDS.find(([key]) => key === kind)?.[1] },
    { head: 'Percent', cell: ({ percent }) => (percent === null ? '' : `${percent}%`), figures: true },
  ],
};

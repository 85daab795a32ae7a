import { majorUnits } from '../../trade/money/money.js';
import { api, type Schemas } from '../api/client';
import { count, listed } from '../format/formatter';
import { answered, type Basic, type Context, type FieldSpec, openedFrom, readTyped, type Values } from './basic';

type Policy = Schemas['RefundPolicy'];
const TIERS_MAX = 20;

/** The tiers that are filled in, by their numbers in the form. */
const tiersIn = (values: Values) =>
  Array.from({ length: TIERS_MAX }, (_, i) => i).filter(
    (i) => values[`days${i}`]?.trim() || values[`percent${i}`]?.trim(),
  );

/** Those filled in, and one more to fill in. */
function tierFields(values: Values): FieldSpec[] {
  const filled = tiersIn(values);
  const next = filled.length < TIERS_MAX ? [(filled.at(-1) ?? -1) + 1] : [];
  return [...filled, ...next].flatMap((i, at) => [
    {
      ...{
        name: `days${i}`,
        at: `#/tiers/${at}/daysBefore`,
        label: `${ORDINALS[at] ?? `${at + 1}th`} limit, days before`,
      },
      ...{ figures: true, assumed: 'refundPolicy' as const, more: at > 1 },
    },
    {
      ...{ name: `percent${i}`, at: `#/tiers/${at}/refundPercent`, label: `Refund until then (${at + 1}), percent` },
      ...{ figures: true, assumed: 'refundPolicy' as const, more: at > 1 },
    },
  ]);
}

const ORDINALS = ['First', 'Second', 'Third'];

const bodyOf = (values: Values, context: Context): Schemas['NewRefundPolicyInput'] =>
  readTyped(context, 'NewRefundPolicyInput', (read) => ({
    name: read.text('/name', values.name ?? ''),
    refilledFeeMinor: read.money('/refilledFeeMinor', values.refilledFee ?? ''),
    tiers: tiersIn(values).map((i, at) => ({
      daysBefore: read.whole(`/tiers/${at}/daysBefore`, values[`days${i}`] ?? ''),
      refundPercent: read.decimal(`/tiers/${at}/refundPercent`, values[`percent${i}`] ?? ''),
    })),
  }));
const path = (refundPolicyId: string) => ({ params: { path: { refundPolicyId } } });

export const REFUND_POLICIES: Basic<Policy> = {
  ...{ one: 'refund policy', many: 'refund policies', schema: 'NewRefundPolicyInput' },
  caution: 'Consumer law may give people more than your terms do: look at the rules where you are.',
  reach: 'Anyone who has booked keeps the terms they booked under: from then on only its name can change.',
  fields: (values, { formatter }) => [
    { name: 'name', label: 'Name' },
    ...tierFields(values),
    {
      ...{ name: 'refilledFee', at: '#/refilledFeeMinor', figures: true, assumed: 'refundPolicy' as const },
      ...{ label: `You keep, ${formatter.currency}`, hint: 'Where somebody else takes the place.' },
    },
  ],
  usual: () => ({
    ...{ name: 'Usual terms', refilledFee: '5' },
    ...{ days0: '28', percent0: '100', days1: '14', percent1: '50' },
  }),
  valuesOf: ({ name, refilledFeeMinor, tiers }, { formatter }) => ({
    ...{ name, refilledFee: majorUnits(refilledFeeMinor, formatter.currency) },
    ...Object.fromEntries(
      tiers.flatMap(({ daysBefore, refundPercent }, i) => [
        [`days${i}`, `${daysBefore}`],
        [`percent${i}`, refundPercent],
      ]),
    ),
  }),
  add: async (values, headers, context) => {
    const item = answered(await api.POST('/api/refund-policies', { body: bodyOf(values, context), headers }));
    return { item, ids: { refundPolicy: [item.id] } };
  },
  open: async (id) => openedFrom(await api.GET('/api/refund-policies/{refundPolicyId}', path(id))),
  change: async ({ id }, values, headers, context) => {
    const body = bodyOf(values, context);
    return answered(await api.PUT('/api/refund-policies/{refundPolicyId}', { ...path(id), body, headers }));
  },
  remove: (id, headers) => api.POST('/api/refund-policies/{refundPolicyId}/removal', { ...path(id), headers }),
  list: async () => answered(await api.GET('/api/refund-policies')).items,
  columns: ({ formatter }) => [
    { head: 'Refund policy', cell: ({ name }) => name },
    { head: 'Refund', cell: ({ tiers }) => listed(tiers.map(tierInWords)) },
    { head: 'You keep', cell: ({ refilledFeeMinor }) => formatter.money(refilledFeeMinor), figures: true },
  ],
};

const tierInWords = ({ daysBefore, refundPercent }: Policy['tiers'][number]) =>
  `${refundPercent}% until ${count(daysBefore, 'day')} before`;

import { majorUnits } from '../../trade/money/money.js';
import { formatPercent } from '../../trade/text/format.js';
import { fetchAllPages } from '../api/all-pages';
import { api, type Schemas } from '../api/client';
import { count } from '../format/formatter';
import { answered, type Basic, type Context, type FieldSpec, openedFrom, readTyped, type Values } from './basic';
import { chamberOf } from './kiln-labels';

/** The list says nothing of what a firing wears, which is money. */
type Kiln = Schemas['Kiln'] & Partial<Pick<Schemas['KilnWithWear'], 'wearMinor'>>;
const SHAPES = [
  ['round', 'round'],
  ['rectangular', 'rectangular'],
  ['oval', 'oval'],
] as const;
const WEARS = ['bisque', 'glaze', 'lustre'] as const;

const figure = (name: string, label: string, rest: Partial<FieldSpec> = {}): FieldSpec => ({
  ...{ name, label, figures: true, assumed: 'kiln', required: true, ...rest },
});

const fields = ({ shape }: Values, currency: string): FieldSpec[] => [
  { name: 'shape', label: 'Shape', choices: SHAPES },
  figure('widthMm', shape === 'round' ? 'Inside diameter, mm' : 'Inside width, mm'),
  ...(shape === 'round' ? [] : [figure('depthMm', 'Inside depth, mm')]),
  figure('heightMm', 'Inside height, mm'),
  figure('ratedKw', 'Rated power, kW', { hint: 'On the plate of the kiln.' }),
  { name: 'name', label: 'Name', more: true },
  figure('fillPercent', 'How full it usually is, percent', { more: true }),
  figure('coolingHours', 'Cooling, hours', { hint: 'Until it is cold enough to open.', more: true }),
  ...WEARS.map((kind) =>
    figure(`${kind}Wear`, `Wear in a ${kind} firing, ${currency}`, {
      ...{ at: `#/wearMinor/${kind}`, more: true },
      ...(kind === 'bisque' && { hint: 'Elements, shelves and kiln wash.' }),
    }),
  ),
];

function bodyOf(values: Values, context: Context): Schemas['NewKilnInput'] {
  const typed = (name: string) => values[name] ?? '';
  return readTyped(context, 'NewKilnInput', (read) => ({
    name: read.text('/name', typed('name')),
    shape: values.shape as Kiln['shape'],
    widthMm: read.whole('/widthMm', typed('widthMm')),
    depthMm: values.shape === 'round' ? Number(typed('widthMm')) : read.whole('/depthMm', typed('depthMm')),
    heightMm: read.whole('/heightMm', typed('heightMm')),
    ratedKw: read.decimal('/ratedKw', typed('ratedKw')),
    fillPercent: read.decimal('/fillPercent', typed('fillPercent')),
    coolingHours: read.whole('/coolingHours', typed('coolingHours')),
    wearMinor: {
      bisque: read.money('/wearMinor/bisque', typed('bisqueWear')),
      glaze: read.money('/wearMinor/glaze', typed('glazeWear')),
      lustre: read.money('/wearMinor/lustre', typed('lustreWear')),
    },
  }));
}
const path = (kilnId: string) => ({ params: { path: { kilnId } } });

export const KILNS: Basic<Kiln> = {
  ...{ one: 'kiln', many: 'kilns', schema: 'NewKilnInput' },
  caution:
    'A qualified electrician connects a kiln, and its room is ventilated to the outside, as its manual and local rules ask.',
  reach: 'What firings cost and the prices you have set stay: a change counts from now on.',
  fields: (values, { formatter }) => fields(values, formatter.currency),
  usual: () => ({
    ...{ name: 'Kiln', shape: 'round', widthMm: '410', depthMm: '410', heightMm: '460', ratedKw: '5.5' },
    ...{ fillPercent: '60', coolingHours: '24', bisqueWear: '2', glazeWear: '3', lustreWear: '1.50' },
  }),
  valuesOf: ({ name, shape, widthMm, depthMm, heightMm, ratedKw, fillPercent, coolingHours, wearMinor }, context) => ({
    ...{ name, shape, widthMm: `${widthMm}`, depthMm: `${depthMm}`, heightMm: `${heightMm}` },
    ...{ ratedKw, fillPercent, coolingHours: `${coolingHours}` },
    ...Object.fromEntries(
      WEARS.map((kind) => [`${kind}Wear`, wearMinor ? majorUnits(wearMinor[kind], context.formatter.currency) : '']),
    ),
  }),
  add: async (values, headers, context) => {
    const item = answered(await api.POST('/api/kilns', { body: bodyOf(values, context), headers }));
    return { item, ids: { kiln: [item.id] } };
  },
  open: async (id) => openedFrom<Kiln>(await api.GET('/api/kilns/{kilnId}', path(id))),
  change: async ({ id }, values, headers, context) =>
    answered(await api.PUT('/api/kilns/{kilnId}', { ...path(id), body: bodyOf(values, context), headers })),
  remove: (id, headers) => api.POST('/api/kilns/{kilnId}/removal', { ...path(id), headers }),
  list: () => fetchAllPages('which kilns there are', (query) => api.GET('/api/kilns', { params: { query } })),
  columns: ({ formatter: { locale } }) => [
    { head: 'Kiln', cell: ({ id, name }) => <a href={`/kilns?kilnId=${id}`}>{name}</a> },
    { head: 'Chamber, inside', cell: chamberOf },
    { head: 'Power', cell: ({ ratedKw }) => `${ratedKw} kW`, figures: true },
    { head: 'Usual fill, assumed', cell: ({ fillPercent }) => formatPercent(fillPercent, locale), figures: true },
    { head: 'Cooling', cell: ({ coolingHours }) => count(coolingHours, 'hour'), figures: true },
  ],
};

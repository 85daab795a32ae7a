import { fetchAllPages } from '../api/all-pages';
import { api, type Schemas } from '../api/client';
import { answered, type Basic, type FieldSpec, readTyped, type Values } from './basic';

type Kiln = Schemas['Kiln'];
const SHAPES = [
  ['round', 'round'],
  ['rectangular', 'rectangular'],
  ['oval', 'oval'],
] as const;
const MM3_PER_LITRE = 1_000_000;

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
  ...(['bisque', 'glaze', 'lustre'] as const).map((kind) =>
    figure(`${kind}Wear`, `Wear in a ${kind} firing, ${currency}`, {
      ...{ at: `#/wearMinor/${kind}`, more: true },
      ...(kind === 'bisque' && { hint: 'Elements, shelves and kiln wash.' }),
    }),
  ),
];

export const KILNS: Basic<Kiln> = {
  ...{ one: 'kiln', many: 'kilns', schema: 'NewKilnInput' },
  caution:
    'A qualified electrician connects a kiln, and its room is ventilated to the outside, as its manual and local rules ask.',
  fields: (values, { formatter }) => fields(values, formatter.currency),
  usual: () => ({
    ...{ name: 'Kiln', shape: 'round', widthMm: '410', depthMm: '410', heightMm: '460', ratedKw: '5.5' },
    ...{ fillPercent: '60', coolingHours: '24', bisqueWear: '2', glazeWear: '3', lustreWear: '1.50' },
  }),
  valuesOf: ({ name, shape, widthMm, depthMm, heightMm, ratedKw, fillPercent, coolingHours }) => ({
    ...{ name, shape, widthMm: `${widthMm}`, depthMm: `${depthMm}`, heightMm: `${heightMm}` },
    ...{ ratedKw, fillPercent, coolingHours: `${coolingHours}` },
  }),
  add: async (values, headers, context) => {
    const typed = (name: string) => values[name] ?? '';
    const body = readTyped(context, (read) => ({
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
    const item = answered(await api.POST('/api/kilns', { body, headers }));
    return { item, ids: { kiln: [item.id] } };
  },
  list: () => fetchAllPages('which kilns there are', (query) => api.GET('/api/kilns', { params: { query } })),
  columns: () => [
    { head: 'Kiln', cell: ({ name }) => name },
    {
      head: 'Inside, mm',
      cell: ({ shape, widthMm, depthMm, heightMm }) =>
        shape === 'round' ? `⌀ ${widthMm} × ${heightMm}` : `${widthMm} × ${depthMm} × ${heightMm}`,
    },
    { head: 'Litres', cell: ({ chamberMm3 }) => Math.round(chamberMm3 / MM3_PER_LITRE), figures: true },
    { head: 'kW', cell: ({ ratedKw }) => ratedKw, figures: true },
    { head: 'Usually full', cell: ({ fillPercent }) => `${fillPercent}%`, figures: true },
    { head: 'Cools, hours', cell: ({ coolingHours }) => coolingHours, figures: true, spare: true },
  ],
};

import { fetchAllPages } from '../api/all-pages';
import { api, type Schemas } from '../api/client';
import { further, type Headers } from '../api/idempotency-key';
import { formatQuantity, plainQuantity } from '../format/quantity';
import type { Reader } from '../forms/parse';
import {
  type Added,
  answered,
  type Basic,
  type Context,
  type FieldSpec,
  openedFrom,
  readTyped,
  type Values,
} from './basic';

type Material = Schemas['StockedMaterial'];
type Body = Schemas['NewMaterialInput'];
type Kind = Material['kind'];
type Unit = Material['unit'];

const KINDS: readonly (readonly [Kind, string])[] = [
  ...([
    ['clay', 'clay'],
    ['slip', 'slip'],
    ['underglaze', 'underglaze'],
    ['glaze', 'glaze'],
  ] as const),
  ...([
    ['oxide', 'oxide'],
    ['stain', 'stain'],
    ['rawMaterial', 'raw material'],
    ['frit', 'frit'],
  ] as const),
  ...([
    ['glass', 'glass'],
    ['lustre', 'lustre'],
    ['wax', 'wax'],
    ['kilnWash', 'kiln wash'],
  ] as const),
  ...([
    ['consumable', 'consumable'],
    ['packaging', 'packaging'],
  ] as const),
];
const UNITS = [
  ['g', 'g or kg'],
  ['ml', 'ml or litres'],
  ['piece', 'pieces'],
] as const;
/**
 * Dry grams in a millilitre of a glaze sold ready to brush, where nobody has dried any: by Brongniart's formula for a slurry of
 * 1.45 g/ml with solids of 2.5 g/cm³, which is common practice.
 */
const USUAL_DRY_GRAMS_PER_ML = '0.75';

const figure = (name: string, label: string, rest: Partial<FieldSpec> = {}): FieldSpec => ({
  ...{ name, label, figures: true, ...rest },
});

function fields({ kind, unit }: Values, { formatter }: Context, editing: boolean): FieldSpec[] {
  const isClay = kind === 'clay';
  return [
    { name: 'name', label: 'Name', hint: 'As on the bag or the jar.' },
    { name: 'kind', label: 'Kind', choices: KINDS },
    ...(isClay ? [] : [{ name: 'unit', label: 'Counted in', choices: UNITS }]),
    figure('packQuantity', 'A pack holds', {
      hint: 'For example, 12.5 kg or 500 ml.',
      assumed: 'material',
      required: true,
    }),
    ...(editing
      ? []
      : [
          figure('price', `A pack costs, ${formatter.currency}`, {
            hint: 'Empty: none is here yet.',
            at: '#/costMinor',
            assumed: 'lot',
          }),
        ]),
    ...(kind === 'glaze' && unit === 'ml'
      ? [
          figure('dryGramsPerMl', 'Dry grams in a millilitre', {
            hint: `Dry 100 ml, weigh it and divide by 100. Empty: ${USUAL_DRY_GRAMS_PER_ML}, an assumption.`,
            assumed: 'material',
          }),
        ]
      : []),
    ...(editing ? [] : [{ name: 'supplier', label: 'Bought from', more: true }]),
    figure('leadTimeDays', 'Days from order to arrival', { more: true, assumed: 'material', required: true }),
    figure('shelfLifeDays', 'Keeps, days from its arrival', { hint: 'Empty: it keeps.', more: true }),
    ...(isClay
      ? [
          figure('waterPercent', 'Water, percent of its weight', { more: true }),
          figure('dryingShrinkagePercent', 'Shrinks in drying, percent', { more: true }),
          figure('firingShrinkagePercent', 'Shrinks in firing, percent', { more: true }),
        ]
      : []),
    figure('fromC', 'Fired from, °C', { at: '#/firingRange', more: true }),
    figure('toC', 'Fired to, °C', { more: true }),
  ];
}

/** What the form does not ask for, and a change must not lose. */
type Unasked = Pick<Body, 'inputVatPercent' | 'manufacturerStatement' | 'hazardNote'>;
const NOTHING: Unasked = { inputVatPercent: null, manufacturerStatement: null, hazardNote: null };

function bodyOf(values: Values, read: Reader, unasked: Unasked): Body {
  const typed = (name: string) => values[name]?.trim() ?? '';
  const optional = (name: string) => (typed(name) === '' ? null : read.decimal(`/${name}`, typed(name)));
  const kind = values.kind as Kind;
  const unit = kind === 'clay' ? 'g' : (values.unit as Unit);
  const isWet = kind === 'glaze' && unit === 'ml';
  if ((typed('fromC') === '') !== (typed('toC') === ''))
    read.wrong('/firingRange', 'Give both temperatures, or neither.');
  const { inputVatPercent, manufacturerStatement, hazardNote } = unasked;
  return {
    ...{ inputVatPercent, manufacturerStatement, hazardNote },
    ...{ name: read.text('/name', typed('name')), kind, unit },
    packQuantity: read.quantity('/packQuantity', typed('packQuantity'), unit),
    leadTimeDays: read.whole('/leadTimeDays', typed('leadTimeDays')),
    shelfLifeDays: typed('shelfLifeDays') === '' ? null : read.whole('/shelfLifeDays', typed('shelfLifeDays')),
    dryGramsPerMl: isWet ? (optional('dryGramsPerMl') ?? USUAL_DRY_GRAMS_PER_ML) : null,
    waterPercent: kind === 'clay' ? optional('waterPercent') : null,
    dryingShrinkagePercent: kind === 'clay' ? optional('dryingShrinkagePercent') : null,
    firingShrinkagePercent: kind === 'clay' ? optional('firingShrinkagePercent') : null,
    firingRange:
      typed('fromC') && typed('toC')
        ? { fromC: read.whole('/firingRange', typed('fromC')), toC: read.whole('/toC', typed('toC')) }
        : null,
  };
}

/** A material, and the pack that is here, if one is. */
async function add(values: Values, headers: Headers, context: Context): Promise<Added<Material>> {
  const { body, costMinor } = readTyped(context, 'NewMaterialInput', (read) => ({
    body: bodyOf(values, read, NOTHING),
    costMinor: values.price?.trim() ? read.money('/costMinor', values.price) : null,
  }));
  const material = answered(await api.POST('/api/materials', { body, headers }));
  const item: Material = { ...material, onHand: 0, asksForCount: false };
  const ids = { material: [material.id] };
  if (costMinor === null) return { item, ids };
  const lot = answered(
    await api.POST('/api/materials/{materialId}/lots', {
      params: { path: { materialId: material.id } },
      body: {
        supplier: values.supplier?.trim() || 'Not noted',
        ...{ receivedOn: context.today, quantity: body.packQuantity, costMinor },
      },
      headers: further(headers, 1),
    }),
  );
  return { item: { ...item, onHand: body.packQuantity }, ids: { ...ids, lot: [lot.id] } };
}

const path = (materialId: string) => ({ params: { path: { materialId } } });

export const MATERIALS: Basic<Material> = {
  ...{ one: 'material', many: 'materials', schema: 'NewMaterialInput', fields, add },
  reach: 'Lots that are here keep what they cost.',
  caution: 'Keep the manufacturer’s safety data sheet at hand. Dust of clay and glaze harms the lungs: clean up wet.',
  usual: () => ({
    name: '',
    kind: 'clay',
    unit: 'g',
    dryGramsPerMl: '',
    packQuantity: '12.5 kg',
    price: '',
    supplier: '',
    leadTimeDays: '7',
  }),
  valuesOf: (material) => {
    const { name, kind, unit, packQuantity, leadTimeDays, firingRange } = material;
    return {
      ...{ name, kind, unit, packQuantity: plainQuantity(packQuantity, unit), leadTimeDays: `${leadTimeDays}` },
      shelfLifeDays: `${material.shelfLifeDays ?? ''}`,
      ...{ waterPercent: material.waterPercent ?? '', dryGramsPerMl: material.dryGramsPerMl ?? '' },
      dryingShrinkagePercent: material.dryingShrinkagePercent ?? '',
      firingShrinkagePercent: material.firingShrinkagePercent ?? '',
      ...{ fromC: `${firingRange?.fromC ?? ''}`, toC: `${firingRange?.toC ?? ''}` },
    };
  },
  open: async (id) => openedFrom<Material>(await api.GET('/api/materials/{materialId}', path(id))),
  change: async (item, values, headers, context) => {
    const body = readTyped(context, 'NewMaterialInput', (read) => bodyOf(values, read, item));
    return answered(await api.PUT('/api/materials/{materialId}', { ...path(item.id), body, headers }));
  },
  list: () => fetchAllPages('what is on the shelf', (query) => api.GET('/api/materials', { params: { query } })),
  columns: ({ formatter }) => [
    { head: 'Material', cell: ({ id, name }) => <a href={`/shelf/materials/${id}`}>{name}</a> },
    { head: 'Kind', cell: ({ kind }) => KINDS.find(([key]) => key === kind)?.[1] },
    { head: 'A pack', cell: ({ packQuantity, unit }) => formatQuantity(packQuantity, unit, formatter), figures: true },
    { head: 'On hand', cell: ({ onHand, unit }) => formatQuantity(onHand, unit, formatter), figures: true },
  ],
};

/** A first clay and a first glaze: as any material, begun from what is usual. */
const firstOf = (kind: 'clay' | 'glaze', usual: Values): Basic<Material> => ({
  ...MATERIALS,
  one: kind,
  fields: (values, context) => fields(values, context, false).filter(({ name }) => name !== 'kind'),
  usual: () => ({ ...usual, kind, supplier: '', leadTimeDays: '7' }),
});
export const FIRST_CLAY = firstOf('clay', { name: 'Stoneware clay', unit: 'g', packQuantity: '12.5 kg', price: '14' });
export const FIRST_GLAZE = firstOf('glaze', {
  name: 'Clear glaze',
  unit: 'ml',
  packQuantity: '500 ml',
  price: '15',
  dryGramsPerMl: '',
});

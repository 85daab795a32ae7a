import { Decimal, minorDigits } from '../../trade/money/money.js';
import { fetchAllPages } from '../api/all-pages';
import { api, type Schemas } from '../api/client';
import { answered, type Basic, type Context, type FieldSpec, openedFrom, readTyped, type Values } from './basic';

type Tariff = Schemas['Tariff'];
const BANDS_MAX = 48;
const DAY_MINUTES = 1440;

const minorPer = (currency: string) => new Decimal(10).pow(minorDigits(currency));
const clock = (minute: number) =>
  `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
const perKwh = (minor: string, { formatter }: Context) =>
  new Decimal(minor).div(minorPer(formatter.currency)).toFixed();

/** The prices after the first, by their numbers in the form. */
const laterIn = (values: Values) =>
  Array.from({ length: BANDS_MAX - 1 }, (_, i) => i + 1).filter(
    (i) => values[`from${i}`] || values[`price${i}`]?.trim(),
  );

function laterFields(values: Values): FieldSpec[] {
  const filled = laterIn(values);
  const next = filled.length < BANDS_MAX - 1 ? [(filled.at(-1) ?? 0) + 1] : [];
  return [...filled, ...next].flatMap((i, at) => [
    {
      ...{ name: `from${i}`, at: `#/bands/${at + 1}/fromMinute`, label: `Other price ${at + 1} begins at` },
      ...{ type: 'time' as const, more: true },
    },
    {
      ...{ name: `price${i}`, at: `#/bands/${at + 1}/perKwhMinor`, label: `Other price ${at + 1} per kWh` },
      ...{ figures: true, more: true },
    },
  ]);
}

function bodyOf(values: Values, context: Context): Schemas['NewTariffInput'] {
  const units = minorPer(context.formatter.currency);
  return readTyped(context, 'NewTariffInput', (read) => {
    const price = (at: number, typed = '') =>
      new Decimal(read.decimal(`/bands/${at}/perKwhMinor`, typed)).times(units).toFixed();
    const starts = laterIn(values).map((i, at) => {
      const [hours, minutes] = (values[`from${i}`] ?? '').split(':').map(Number);
      if (hours === undefined || minutes === undefined)
        read.wrong(`/bands/${at + 1}/fromMinute`, 'Give a time, for example 07:00.');
      return { fromMinute: (hours ?? 0) * 60 + (minutes ?? 0), perKwhMinor: price(at + 1, values[`price${i}`]) };
    });
    const all = [{ fromMinute: 0, perKwhMinor: price(0, values.price0) }, ...starts];
    const bands = [...all].sort((a, b) => a.fromMinute - b.fromMinute);
    return {
      name: read.text('/name', values.name ?? ''),
      validFrom: values.validFrom ?? '',
      bands: bands.map((band, i) => ({ ...band, toMinute: bands[i + 1]?.fromMinute ?? DAY_MINUTES })),
    };
  });
}

const path = (tariffId: string) => ({ params: { path: { tariffId } } });

export const TARIFFS: Basic<Tariff> = {
  ...{ one: 'tariff', many: 'tariffs', schema: 'NewTariffInput' },
  reach:
    'Firings keep what they cost: once one was settled by this tariff only its name can change, and another price is another tariff from its day on.',
  fields: (values, { formatter }) => [
    {
      ...{ name: 'price0', at: '#/bands/0/perKwhMinor', label: `Price per kWh, ${formatter.currency}`, required: true },
      ...{ hint: 'As on your bill. For example, 0.27.', figures: true, assumed: 'tariff' as const },
    },
    { name: 'name', label: 'Name', more: true },
    { name: 'validFrom', label: 'From', type: 'date', more: true },
    ...laterFields(values),
  ],
  usual: ({ today }) => ({ name: 'Electricity', validFrom: today, price0: '0.27' }),
  valuesOf: ({ name, validFrom, bands }, context) => ({
    ...{ name, validFrom },
    ...Object.fromEntries(
      bands.flatMap(({ fromMinute, perKwhMinor }, i) => [
        [`from${i}`, clock(fromMinute)],
        [`price${i}`, perKwh(perKwhMinor, context)],
      ]),
    ),
  }),
  add: async (values, headers, context) => {
    const item = answered(await api.POST('/api/tariffs', { body: bodyOf(values, context), headers }));
    return { item, ids: { tariff: [item.id] } };
  },
  open: async (id) => openedFrom(await api.GET('/api/tariffs/{tariffId}', path(id))),
  change: async ({ id }, values, headers, context) =>
    answered(await api.PUT('/api/tariffs/{tariffId}', { ...path(id), body: bodyOf(values, context), headers })),
  remove: (id, headers) => api.POST('/api/tariffs/{tariffId}/removal', { ...path(id), headers }),
  list: () => fetchAllPages('which tariffs there are', (query) => api.GET('/api/tariffs', { params: { query } })),
  columns: (context) => [
    { head: 'Tariff', cell: ({ name }) => name },
    { head: 'From', cell: ({ validFrom }) => context.formatter.fullDate(validFrom) },
    {
      head: `${context.formatter.currency} per kWh`,
      cell: ({ bands }) =>
        bands
          .map(({ fromMinute, perKwhMinor }) =>
            bands.length === 1
              ? perKwh(perKwhMinor, context)
              : `${perKwh(perKwhMinor, context)} from ${clock(fromMinute)}`,
          )
          .join(', '),
    },
  ],
};

import { majorUnits } from '../../trade/money/money.js';
import { fetchAllPages } from '../api/all-pages';
import { api, type Schemas } from '../api/client';
import { answered, type Basic, type Context, openedFrom, readTyped, type Values } from './basic';

type Supplier = Schemas['Supplier'];

function bodyOf(values: Values, context: Context): Schemas['NewSupplierInput'] {
  const typed = (name: string) => values[name]?.trim() ?? '';
  return readTyped(context, 'NewSupplierInput', (read) => ({
    name: read.text('/name', typed('name')),
    email: typed('email') || null,
    addressLines: typed('addressLines')
      .split('\n')
      .flatMap((line) => line.trim() || []),
    leadTimeDays: read.whole('/leadTimeDays', typed('leadTimeDays')),
    carriageMinor: read.money('/carriageMinor', typed('carriage')),
    freeFromMinor: typed('freeFrom') === '' ? null : read.money('/freeFromMinor', typed('freeFrom')),
  }));
}

const path = (supplierId: string) => ({ params: { path: { supplierId } } });

export const SUPPLIERS: Basic<Supplier> = {
  ...{ one: 'supplier', many: 'suppliers', schema: 'NewSupplierInput' },
  reach: 'Orders that you have placed stay as they are.',
  fields: (_, { formatter }) => [
    { name: 'name', label: 'Name' },
    { name: 'email', label: 'Email', type: 'email' },
    { name: 'addressLines', label: 'Address', lines: true },
    { name: 'leadTimeDays', label: 'Days from order to arrival', figures: true },
    { name: 'carriage', at: '#/carriageMinor', label: `Carriage of an order, ${formatter.currency}`, figures: true },
    {
      ...{ name: 'freeFrom', at: '#/freeFromMinor', label: `No carriage from, ${formatter.currency}`, figures: true },
      hint: 'Empty: carriage is always charged.',
    },
  ],
  usual: () => ({ name: '', email: '', addressLines: '', leadTimeDays: '7', carriage: '0', freeFrom: '' }),
  valuesOf: (supplier, { formatter }) => ({
    ...{ name: supplier.name, email: supplier.email ?? '', addressLines: supplier.addressLines.join('\n') },
    ...{ leadTimeDays: `${supplier.leadTimeDays}`, carriage: majorUnits(supplier.carriageMinor, formatter.currency) },
    freeFrom: supplier.freeFromMinor === null ? '' : majorUnits(supplier.freeFromMinor, formatter.currency),
  }),
  add: async (values, headers, context) => ({
    item: answered(await api.POST('/api/suppliers', { body: bodyOf(values, context), headers })),
    ids: {},
  }),
  open: async (id) => openedFrom(await api.GET('/api/suppliers/{supplierId}', path(id))),
  change: async ({ id }, values, headers, context) =>
    answered(await api.PUT('/api/suppliers/{supplierId}', { ...path(id), body: bodyOf(values, context), headers })),
  remove: (id, headers) => api.POST('/api/suppliers/{supplierId}/removal', { ...path(id), headers }),
  list: () => fetchAllPages('which suppliers there are', (query) => api.GET('/api/suppliers', { params: { query } })),
  columns: ({ formatter }) => [
    { head: 'Supplier', cell: ({ name }) => name },
    { head: 'Email', cell: ({ email }) => email ?? '' },
    { head: 'Arrives after, days', cell: ({ leadTimeDays }) => leadTimeDays, figures: true },
    { head: 'Carriage', cell: ({ carriageMinor }) => formatter.money(carriageMinor), figures: true },
  ],
};

import { api, type Schemas } from '../api/client';
import { answered, type Basic, type Context, openedFrom, readTyped, type Values } from './basic';

const bodyOf = (values: Values, context: Context) =>
  readTyped(context, 'NewClosureInput', (read) => {
    const from = read.chosen('/from', values.from ?? '');
    return { name: read.text('/name', values.name ?? ''), from, to: values.to || from };
  });
const at = (closureId: string) => ({ params: { path: { closureId } } });

export const CLOSURES: Basic<Schemas['Closure']> = {
  ...{ one: 'closed day', many: 'closed days', schema: 'NewClosureInput' },
  reach: 'What is planned on these days already stays there.',
  fields: () => [
    { name: 'name', label: 'Why', hint: 'For example, half-term' },
    { name: 'from', label: 'First day', type: 'date' },
    { name: 'to', label: 'Last day', type: 'date', hint: 'Left empty: that day alone', required: false },
  ],
  usual: () => ({ name: '', from: '', to: '' }),
  valuesOf: ({ name, from, to }) => ({ name, from, to }),
  add: async (values, headers, context) => {
    const item = answered(await api.POST('/api/closures', { body: bodyOf(values, context), headers }));
    return { item, ids: {} };
  },
  open: async (id) => openedFrom(await api.GET('/api/closures/{closureId}', at(id))),
  change: async ({ id }, values, headers, context) =>
    answered(await api.PUT('/api/closures/{closureId}', { ...at(id), body: bodyOf(values, context), headers })),
  remove: (id, headers) => api.POST('/api/closures/{closureId}/removal', { ...at(id), headers }),
  list: async () => answered(await api.GET('/api/closures')).items,
  columns: ({ formatter }) => [
    { head: 'Why', cell: ({ name }) => name },
    {
      head: 'When',
      cell: ({ from, to }) =>
        from === to ? formatter.longDay(from) : `${formatter.longDay(from)} to ${formatter.longDay(to)}`,
    },
  ],
};

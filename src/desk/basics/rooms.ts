import { api, type Schemas } from '../api/client';
import { answered, type Basic, type Context, openedFrom, readTyped, type Values } from './basic';

const bodyOf = (values: Values, context: Context) =>
  readTyped(context, 'NewRoomInput', (read) => ({
    name: read.text('/name', values.name ?? ''),
    benches: read.whole('/benches', values.benches ?? ''),
  }));
const at = (roomId: string) => ({ params: { path: { roomId } } });

export const ROOMS: Basic<Schemas['Room']> = {
  ...{ one: 'room', many: 'rooms', schema: 'NewRoomInput' },
  fields: () => [
    { name: 'name', label: 'Name' },
    {
      name: 'benches',
      label: 'Places to work',
      hint: 'How many can work in it at once.',
      figures: true,
      assumed: 'room',
    },
  ],
  usual: () => ({ name: 'Studio', benches: '8' }),
  valuesOf: ({ name, benches }) => ({ name, benches: `${benches}` }),
  add: async (values, headers, context) => {
    const item = answered(await api.POST('/api/rooms', { body: bodyOf(values, context), headers }));
    return { item, ids: { room: [item.id] } };
  },
  open: async (id) => openedFrom(await api.GET('/api/rooms/{roomId}', at(id))),
  change: async ({ id }, values, headers, context) =>
    answered(await api.PUT('/api/rooms/{roomId}', { ...at(id), body: bodyOf(values, context), headers })),
  remove: (id, headers) => api.POST('/api/rooms/{roomId}/removal', { ...at(id), headers }),
  list: async () => answered(await api.GET('/api/rooms')).items,
  columns: () => [
    { head: 'Room', cell: ({ name }) => name },
    { head: 'Places to work', cell: ({ benches }) => benches, figures: true },
  ],
};

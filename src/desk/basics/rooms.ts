import { api, type Schemas } from '../api/client';
import { answered, type Basic, readTyped } from './basic';

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
    const body = readTyped(context, (read) => ({
      name: read.text('/name', values.name ?? ''),
      benches: read.whole('/benches', values.benches ?? ''),
    }));
    const item = answered(await api.POST('/api/rooms', { body, headers }));
    return { item, ids: { room: [item.id] } };
  },
  list: async () => answered(await api.GET('/api/rooms')).items,
  columns: () => [
    { head: 'Room', cell: ({ name }) => name },
    { head: 'Places to work', cell: ({ benches }) => benches, figures: true },
  ],
};

import { api, type Schemas } from '../api/client';
import { count } from '../format/formatter';
import { answered, type Basic, type Context, openedFrom, readTyped, type Values } from './basic';

type Board = Schemas['Board'];
const KINDS = [
  ['wareBoard', 'Ware board'],
  ['dampCupboard', 'Damp cupboard'],
  ['shelf', 'Shelf'],
  ['collection', 'Collection shelf'],
] as const;

const bodyOf = (values: Values, context: Context): Schemas['NewBoardInput'] =>
  readTyped(context, 'NewBoardInput', (read) => ({
    name: read.text('/name', values.name ?? ''),
    kind: values.kind as Board['kind'],
  }));
const path = (boardId: string) => ({ params: { path: { boardId } } });

/** Where ware waits, before and after its firings. */
export const BOARDS: Basic<Board> = {
  ...{ one: 'place for ware', many: 'places for ware', schema: 'NewBoardInput' },
  fields: () => [
    { name: 'name', label: 'Name', hint: 'As on its label. For example, Board 4.' },
    { name: 'kind', label: 'Kind', choices: KINDS },
  ],
  usual: () => ({ name: '', kind: 'wareBoard' }),
  valuesOf: ({ name, kind }) => ({ name, kind }),
  add: async (values, headers, context) => ({
    item: answered(await api.POST('/api/boards', { body: bodyOf(values, context), headers })),
    ids: {},
  }),
  open: async (id) => openedFrom(await api.GET('/api/boards/{boardId}', path(id))),
  change: async ({ id }, values, headers, context) =>
    answered(await api.PUT('/api/boards/{boardId}', { ...path(id), body: bodyOf(values, context), headers })),
  remove: (id, headers) => api.POST('/api/boards/{boardId}/removal', { ...path(id), headers }),
  list: async () => answered(await api.GET('/api/boards')).items,
  columns: () => [
    { head: 'Place', cell: ({ name }) => name },
    { head: 'Kind', cell: ({ kind }) => KINDS.find(([key]) => key === kind)?.[1] },
    { head: 'Ware on it', cell: ({ pieces }) => (pieces === 0 ? 'none' : count(pieces, 'piece')), figures: true },
  ],
};

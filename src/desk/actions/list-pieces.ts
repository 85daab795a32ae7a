import { fetchAllPages } from '../api/all-pages';
import { api, type Schemas } from '../api/client';

export type ListedPiece = Schemas['ListedPiece'];
export type Stage = ListedPiece['stage'];

/** All pieces at a stage, the longest waiting first. */
export const listPiecesAt = (stage: Stage): Promise<ListedPiece[]> =>
  fetchAllPages('which pieces there are', (query) =>
    api.GET('/api/pieces', { params: { query: { ...query, stage, order: 'waiting' } } }),
  );

import type { Noun } from '../../http/noun.js';
import { tilePhotoRoutes } from './photo-routes.js';
import { tilesRoutes } from './routes.js';

export const noun: Noun = {
  routes: [tilesRoutes, tilePhotoRoutes],
};

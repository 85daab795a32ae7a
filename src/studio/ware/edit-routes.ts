import type { FastifyPluginAsync } from 'fastify';
import { editableRoutes } from '../../http/editable.js';
import * as boards from './boards.js';
import { Board, NewBoard } from './contract.js';

export const boardEditRoutes: FastifyPluginAsync = async (app) => {
  editableRoutes(app, {
    ...{ path: '/boards/:boardId', tag: 'ware', what: 'a place where ware is kept', shown: Board, wanted: NewBoard },
    rights: { read: 'ware:read', write: 'ware:write' },
    ...{ get: boards.getBoard, lock: boards.lockBoardToChange, change: boards.changeBoard, remove: boards.removeBoard },
  });
};

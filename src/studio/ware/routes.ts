import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { listOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id, UpTo } from '../../http/types.js';
import { write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { CourseDraw } from '../courses/draw-contract.js';
import { addBoard, listBoards } from './boards.js';
import * as contract from './contract.js';
import { drawForPiece } from './draws.js';
import { addPieces } from './intake.js';
import { addLayers, washOff } from './layers.js';
import { noteOnBoard, recordStage } from './notes.js';
import { findPieceByCode, getPieceStory, listPieces } from './pieces.js';

const tags = ['ware'];
const params = z.object({ id: Id });
const notes = refuses('not-found', 'wrong-stage');

export const wareRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/pieces',
    {
      config: { right: 'ware:write' },
      schema: {
        tags,
        summary: 'Take in ware of one maker; each piece gets its code',
        body: contract.NewPieces,
        response: { 201: contract.Pieces, ...refuses('not-found') },
      },
    },
    (request, reply) =>
      write(request, reply, 201, async (tx, now) => ({ items: await addPieces(tx, now, request.body) })),
  );
  app.get(
    '/pieces',
    {
      config: { right: 'ware:read' },
      schema: {
        tags,
        summary: 'Pieces, by code, maker, course, form, stage, board or how long they wait',
        querystring: contract.PieceQuery,
        response: { 200: listOf(contract.ListedPiece) },
      },
    },
    (request) => read(request, (tx) => listPieces(tx, request.query)),
  );
  app.get(
    '/pieces/:id',
    {
      config: { right: 'ware:read' },
      schema: {
        tags,
        summary: 'A piece: whose it is, its glazes, and all that happened to it',
        params,
        response: { 200: contract.PieceStory, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => getPieceStory(tx, request.params.id)),
  );
  app.get(
    '/pieces/by-code/:code',
    {
      config: { right: 'ware:read' },
      schema: {
        tags,
        summary: 'The piece with a code, however that is typed',
        params: z.object({ code: UpTo(20).min(1) }),
        response: { 200: contract.PieceStory, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => findPieceByCode(tx, request.params.code)),
  );
  app.post(
    '/pieces/stage',
    {
      config: { right: 'ware:write' },
      schema: {
        tags,
        summary: 'Note what became of pieces',
        description:
          'Raw ware that went back into the clay is reclaimed; what the clay weighs then is entered under the reclaim of its material.',
        body: contract.PieceStage,
        response: { 200: contract.Pieces, ...notes },
      },
    },
    (request, reply) => {
      const { pieceIds, stage, ...how } = request.body;
      return write(request, reply, 200, async (tx, now) => ({
        items: await recordStage(tx, now, pieceIds, stage, how),
      }));
    },
  );
  app.post(
    '/pieces/washing-off',
    {
      config: { right: 'ware:write' },
      schema: {
        tags,
        summary: 'Note that raw glaze was washed off: bisque is bisque again, fired ware fired',
        body: contract.WashingOff,
        response: { 200: contract.Pieces, ...notes },
      },
    },
    (request, reply) => {
      const { pieceIds, ...how } = request.body;
      return write(request, reply, 200, async (tx, now) => ({ items: await washOff(tx, now, pieceIds, how) }));
    },
  );
  app.post(
    '/pieces/:id/glazes',
    {
      config: { right: 'ware:write' },
      schema: {
        tags,
        summary: 'Record what was put on a piece: glaze, slip, underglaze, oxide, stain, wax, glass or lustre',
        description:
          'Note every layer, the food surface above all: a piece keeps the manufacturer’s words on food only where their glaze is alone, exactly as they ask.',
        params,
        body: contract.NewLayers,
        response: { 200: contract.PieceStory, ...notes },
      },
    },
    (request, reply) => write(request, reply, 200, (tx, now) => addLayers(tx, now, request.params.id, request.body)),
  );
  app.post(
    '/pieces/:id/draws',
    {
      config: { right: 'stock:write' },
      schema: {
        tags,
        summary: 'Take from the shelf what went into or onto one piece; it counts for its course too',
        params,
        body: contract.NewPieceDraw,
        response: { 201: CourseDraw, ...refuses('not-found', 'set-up-missing') },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => drawForPiece(tx, now, request.params.id, request.body)),
  );
  app.post(
    '/boards',
    {
      config: { right: 'ware:write' },
      schema: {
        tags,
        summary: 'Add a board or shelf for ware',
        body: contract.NewBoard,
        response: { 201: contract.Board, ...refuses('already-there') },
      },
    },
    (request, reply) => write(request, reply, 201, (tx) => addBoard(tx, request.body)),
  );
  app.get(
    '/boards',
    {
      config: { right: 'ware:read' },
      schema: {
        tags,
        summary: 'Boards and shelves for ware',
        response: { 200: z.object({ items: z.array(contract.Board) }) },
      },
    },
    (request) => read(request, async (tx) => ({ items: await listBoards(tx) })),
  );
  app.post(
    '/boards/:boardId/stage',
    {
      config: { right: 'ware:write' },
      schema: {
        tags,
        summary: 'Note something of all the ware on a board',
        params: z.object({ boardId: Id }),
        body: contract.BoardStage,
        response: { 200: contract.Pieces, ...notes },
      },
    },
    (request, reply) =>
      write(request, reply, 200, async (tx, now) => ({
        items: await noteOnBoard(tx, now, request.params.boardId, request.body),
      })),
  );
};

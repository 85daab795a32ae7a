import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { pageOf } from '../../http/paging.js';
import { read } from '../../http/read.js';
import { Id } from '../../http/types.js';
import { edit, write } from '../../http/write.js';
import { refuses } from '../../problems.js';
import { NewTile, Tile, TileQuery } from './contract.js';
import { removePhoto } from './photos.js';
import * as tiles from './service.js';

const tags = ['test tiles'];
const params = z.object({ tileId: Id });
const writes = refuses('not-found', 'set-up-missing');

export const tilesRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/test-tiles',
    {
      config: { right: 'stock:write' },
      schema: {
        tags,
        summary: 'Enter a test tile: its clay, its layers in order, and how it came out',
        description: 'A look at a tile says nothing about food or drink: only a laboratory’s test does.',
        body: NewTile,
        response: { 201: Tile, ...writes },
      },
    },
    (request, reply) => write(request, reply, 201, (tx, now) => tiles.addTile(tx, now, request.body)),
  );
  app.get(
    '/test-tiles',
    {
      config: { right: 'stock:read' },
      schema: {
        tags,
        summary: 'Test tiles, oldest first; those with every word, glaze and body asked for',
        querystring: TileQuery,
        response: { 200: pageOf(Tile) },
      },
    },
    (request) => read(request, (tx) => tiles.listTiles(tx, request.query)),
  );
  app.get(
    '/test-tiles/:tileId',
    {
      config: { right: 'stock:read', tagged: true },
      schema: {
        tags,
        summary: 'A test tile',
        params,
        response: { 200: Tile, ...refuses('not-found') },
      },
    },
    (request) => read(request, (tx) => tiles.getTile(tx, request.params.tileId)),
  );
  app.put(
    '/test-tiles/:tileId',
    {
      config: { right: 'stock:write', tagged: true },
      schema: {
        tags,
        summary: 'Add to a test tile, or correct it; photos stay',
        params,
        body: NewTile,
        response: { 200: Tile, ...writes },
      },
    },
    (request, reply) => {
      const { tileId } = request.params;
      return edit(
        request,
        reply,
        (tx) => tiles.lockTileForChange(tx, tileId),
        (tx, now) => tiles.changeTile(tx, now, tileId, request.body),
      );
    },
  );
  app.post(
    '/test-tiles/:tileId/photos/:photoId/removal',
    {
      config: { right: 'stock:write' },
      schema: {
        tags,
        summary: 'Take a photo away for good; the tile and its other photos stay',
        params: params.extend({ photoId: Id }),
        response: { 201: Tile, ...refuses('not-found') },
      },
    },
    (request, reply) => {
      const { tileId, photoId } = request.params;
      return write(request, reply, 201, (tx) => removePhoto(tx, tileId, photoId));
    },
  );
};

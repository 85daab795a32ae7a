import { Prisma } from '../../database/generated/client.js';
import { oneAtATime } from '../../database/one-at-a-time.js';
import type { Transaction } from '../../database/transaction.js';
import type { TileQuery } from './contract.js';

/** The number of the last tile; nobody else makes one until this transaction ends, or two would bear the same. */
export async function lockTileNumber(tx: Transaction): Promise<number> {
  await oneAtATime(tx, 'numbering tiles');
  const { _max } = await tx.testTile.aggregate({ _max: { number: true } });
  return _max.number ?? 0;
}

/**
 * The ids of tiles, oldest first, in each of which every word stands: in its name, what was seen of it, or the name of a material; or
 * the word is its number. Each tile's words are put together once and then looked through: a condition for each word and field
 * has the database plan for half a minute where somebody types a hundred words.
 */
export async function findTileIds(tx: Transaction, { words, glazeId, bodyId, after, take }: Sought): Promise<string[]> {
  const ofGlaze = Prisma.sql`AND EXISTS (SELECT 1 FROM test_tile_layer WHERE tile_id = tile.id AND material_id = ${glazeId}::uuid)`;
  const rows = await tx.$queryRaw<{ id: string }[]>`
    SELECT tile.id
    FROM test_tile tile
    JOIN material body ON body.id = tile.body_id
    CROSS JOIN LATERAL (
      SELECT lower(concat_ws(E'\n', tile.name, tile.notes, tile.colour, tile.surface, tile.defects, body.name,
        (SELECT string_agg(material.name, E'\n')
         FROM test_tile_layer layer JOIN material ON material.id = layer.material_id
         WHERE layer.tile_id = tile.id))) AS text
      OFFSET 0 -- else it is put together again for each word
    ) said
    WHERE NOT EXISTS (
      SELECT 1 FROM unnest(${[...words]}::text[]) word
      WHERE strpos(said.text, lower(word)) = 0 AND (word !~ '^[0-9]{1,9}$' OR word::numeric <> tile.number)
    )
    ${glazeId === undefined ? Prisma.empty : ofGlaze}
    ${bodyId === undefined ? Prisma.empty : Prisma.sql`AND tile.body_id = ${bodyId}::uuid`}
    ${after === undefined ? Prisma.empty : Prisma.sql`AND tile.id > ${after}::uuid`}
    ORDER BY tile.id
    LIMIT ${take}`;
  return rows.map(({ id }) => id);
}

type Sought = Pick<TileQuery, 'glazeId' | 'bodyId' | 'after'> & { words: readonly string[]; take: number };

/** Locks a tile, so that of two who write on it at once one sees what the other wrote. */
export async function lockTile(tx: Transaction, id: string): Promise<void> {
  await tx.$queryRaw`SELECT 1 FROM test_tile WHERE id = ${id}::uuid FOR UPDATE`;
}

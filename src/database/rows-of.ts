import { Prisma } from './generated/client.js';

/**
 * Rows to be written, as a table to select from: `FROM ${rowsOf(rows)} AS r (id uuid, "pieceId" uuid)`. One text serves any number of
 * rows, so that Prisma need not make a statement for each number, which takes it longer than the server takes to write them.
 */
export const rowsOf = (rows: readonly object[]): Prisma.Sql =>
  Prisma.sql`json_to_recordset(${JSON.stringify(rows)}::json)`;

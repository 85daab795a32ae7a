import type pg from 'pg';

export interface Table {
  name: string;
  columns: string[];
  /** Its primary key. */
  key: string[];
  /** The tables to which its rows refer. */
  refersTo: string[];
}

/** Rows that the program makes by itself in an empty database: an outfit of accounts and number series, a link for setting up. */
const OUTFIT = new Set(['account', 'number_series', 'set_up_link']);

const OURS = `SELECT c.oid, c.relname FROM pg_class c
  WHERE c.relnamespace = current_schema()::regnamespace AND c.relkind IN ('r', 'p') AND c.relname <> '_prisma_migrations'`;

/**
 * The studio's tables in an order in which no row refers to one that comes later. The job queue's tables are not among them.
 * @throws Error where tables refer to each other in a circle, or numbers come from a sequence, which a backup does not hold
 */
export async function tablesInOrder(client: pg.Client): Promise<Table[]> {
  const sequences = await client.query('SELECT FROM pg_sequences WHERE schemaname = current_schema()');
  if (sequences.rowCount) throw new Error('A backup does not contain the state of sequences.');
  const { rows } = await client.query<Table>(
    `WITH ours AS (${OURS})
     SELECT o.relname AS name,
       ARRAY(SELECT a.attname::text FROM pg_attribute a
              WHERE a.attrelid = o.oid AND a.attnum > 0 AND NOT a.attisdropped AND a.attgenerated = '' ORDER BY a.attnum) AS columns,
       ARRAY(SELECT a.attname::text FROM pg_index i, unnest(i.indkey::smallint[]) WITH ORDINALITY AS k (attnum, nth)
               JOIN pg_attribute a USING (attnum) WHERE i.indrelid = o.oid AND i.indisprimary AND a.attrelid = o.oid ORDER BY nth) AS key,
       ARRAY(SELECT DISTINCT f.relname::text FROM pg_constraint c JOIN ours f ON f.oid = c.confrelid
              WHERE c.conrelid = o.oid AND c.contype = 'f' AND f.oid <> o.oid) AS "refersTo"
       FROM ours o ORDER BY o.relname`,
  );
  return inOrder(rows);
}

function inOrder(tables: Table[]): Table[] {
  const placed = new Set<string>();
  const ordered: Table[] = [];
  while (ordered.length < tables.length) {
    const next = tables.filter(({ name, refersTo }) => !placed.has(name) && refersTo.every((each) => placed.has(each)));
    if (next.length === 0)
      throw new Error('Tables refer to each other in a circle; they cannot be loaded in any order.');
    for (const { name } of next) placed.add(name);
    ordered.push(...next);
  }
  return ordered;
}

/** The names of tables that hold what people entered. */
export async function tablesInUse(client: pg.Client): Promise<string[]> {
  const { rows } = await client.query<{ name: string }>(`SELECT relname AS name FROM (${OURS}) ours ORDER BY relname`);
  const used: string[] = [];
  for (const { name } of rows) {
    if (OUTFIT.has(name)) continue;
    if ((await client.query(`SELECT FROM ${quoted(name)} LIMIT 1`)).rowCount) used.push(name);
  }
  return used;
}

export const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;
export const columnList = (names: readonly string[]): string => names.map(quoted).join(', ');

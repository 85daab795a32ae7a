import { Prisma } from '../../src/database/generated/client.js';
import type { Database, Transaction } from '../../src/database/transaction.js';

interface Node {
  'Node Type': string;
  'Relation Name'?: string;
  'Actual Rows': number;
  'Actual Loops': number;
  'Rows Removed by Filter'?: number;
  'Rows Removed by Index Recheck'?: number;
  Plans?: Node[];
}

/** What one step of a plan took from a table. */
export interface Reading {
  table: string;
  how: string;
  rows: number;
  sql: string;
}

/** A transaction that notes of every raw query how the database reads its tables. */
export function explaining(db: Database): { tx: Transaction; readings: Reading[] } {
  const readings: Reading[] = [];
  const explained = async (strings: TemplateStringsArray, ...values: unknown[]) => {
    const query = Prisma.sql(strings, ...values);
    const rows = await db.$queryRawUnsafe<{ 'QUERY PLAN': { Plan: Node }[] }[]>(
      `EXPLAIN (ANALYZE, FORMAT JSON) ${query.text}`,
      ...query.values,
    );
    for (const { Plan } of rows[0]?.['QUERY PLAN'] ?? []) collect(Plan, query.sql, readings);
    return db.$queryRaw(query);
  };
  const tx = new Proxy(db, {
    get: (target, name) => (name === '$queryRaw' ? explained : Reflect.get(target, name)),
  });
  return { tx, readings };
}

function collect(node: Node, sql: string, readings: Reading[]): void {
  const table = node['Relation Name'];
  const dropped = (node['Rows Removed by Filter'] ?? 0) + (node['Rows Removed by Index Recheck'] ?? 0);
  const rows = Math.round((node['Actual Rows'] + dropped) * node['Actual Loops']);
  if (table !== undefined) readings.push({ table, how: node['Node Type'], rows, sql });
  for (const child of node.Plans ?? []) collect(child, sql, readings);
}

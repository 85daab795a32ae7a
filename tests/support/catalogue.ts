import type pg from 'pg';

// Tables of others: the record of migrations, whose form is Prisma's.
const TABLES = `SELECT oid, relname FROM pg_class
  WHERE relnamespace = 'public'::regnamespace AND relkind = 'r' AND relname <> '_prisma_migrations'`;

const names = (table: string, numbers: string) =>
  `(SELECT string_agg(attname, ', ' ORDER BY i) FROM unnest(${numbers}) WITH ORDINALITY AS n (attnum, i)
      JOIN pg_attribute a USING (attnum) WHERE a.attrelid = ${table})`;

const FACTS = `
WITH t AS (${TABLES})
SELECT format('enum %s: %s', typname, string_agg(enumlabel, ', ' ORDER BY enumsortorder)) AS fact
  FROM pg_type JOIN pg_enum ON enumtypid = pg_type.oid
  WHERE typnamespace = 'public'::regnamespace GROUP BY typname
UNION ALL
SELECT format('%s.%s: %s%s%s', relname, attname, format_type(atttypid, atttypmod),
              CASE WHEN attnotnull THEN ' not null' END,
              CASE WHEN atthasdef OR attidentity <> '' THEN ' with a default' END)
  FROM t JOIN pg_attribute ON attrelid = t.oid WHERE attnum > 0 AND NOT attisdropped AND attgenerated = ''
UNION ALL
-- what Prisma can't say (exclusion, parts of a table, expressions, generated columns, their indexes and references) is the database's own
SELECT format('%s: %s (%s)', relname, CASE WHEN indisprimary THEN 'id' WHEN indisunique THEN 'unique' ELSE 'index' END,
              ${names('t.oid', 'indkey::int2[]')})
  FROM t JOIN pg_index ON indrelid = t.oid WHERE NOT indisexclusion AND indpred IS NULL AND indexprs IS NULL
    AND NOT EXISTS (SELECT FROM pg_attribute WHERE attrelid = t.oid AND attnum = ANY(indkey) AND attgenerated <> '')
UNION ALL
SELECT format('%s: (%s) refers to %s (%s)%s', t.relname, ${names('t.oid', 'conkey')}, other.relname,
              ${names('other.oid', 'confkey')}, CASE WHEN confdeltype = 'c' THEN ', deleted with it' END)
  FROM t JOIN pg_constraint ON conrelid = t.oid JOIN pg_class other ON other.oid = confrelid WHERE contype = 'f'
    AND NOT EXISTS (SELECT FROM pg_attribute WHERE attrelid = t.oid AND attnum = ANY(conkey) AND attgenerated <> '')`;

/** What the database says of itself, in the words of factsOfSchema(). */
export async function factsOfDatabase(client: pg.Client): Promise<string[]> {
  const { rows } = await client.query<{ fact: string }>(FACTS);
  return rows.map(({ fact }) => fact).sort();
}

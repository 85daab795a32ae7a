import pg from 'pg';

let statements: string[] = [];
const query = pg.Client.prototype.query as (...args: unknown[]) => unknown;
Object.assign(pg.Client.prototype, {
  query(this: pg.Client, ...args: unknown[]) {
    const [asked] = args as [string | { text: string }];
    statements.push(typeof asked === 'string' ? asked : asked.text);
    return query.apply(this, args);
  },
});

const AROUND = /^\s*(BEGIN|COMMIT|ROLLBACK|SET\b)/i;

/** What this process asked the database during some work, without what begins and ends a transaction. */
export async function statementsOf(work: () => Promise<unknown>): Promise<string[]> {
  statements = [];
  await work();
  return statements.filter((sql) => !AROUND.test(sql));
}

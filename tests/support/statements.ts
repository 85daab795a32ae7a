import pg from 'pg';

/** What the database was asked, and with which values. */
export type Statement = { text: string; values: unknown[] };

let statements: Statement[] = [];
const query = pg.Client.prototype.query as (...args: unknown[]) => unknown;
Object.assign(pg.Client.prototype, {
  query(this: pg.Client, ...args: unknown[]) {
    const [asked, values] = args as [string | { text: string; values?: unknown[] }, unknown[] | undefined];
    statements.push(
      typeof asked === 'string'
        ? { text: asked, values: Array.isArray(values) ? values : [] }
        : { text: asked.text, values: asked.values ?? [] },
    );
    return query.apply(this, args);
  },
});

const AROUND = /^\s*(BEGIN|COMMIT|ROLLBACK|SET\b)/i;

/** What this process asked the database during some work, without what begins and ends a transaction. */
export async function statementsOf(work: () => Promise<unknown>): Promise<Statement[]> {
  statements = [];
  await work();
  return statements.filter(({ text }) => !AROUND.test(text));
}

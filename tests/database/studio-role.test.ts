import { afterAll, describe, expect, test } from 'vitest';
import { eraseEmbedded, startEmbedded } from '../../src/database/embedded/server.js';
import { migrate } from '../../src/database/migrate.js';
import { folder, query } from '../support/embedded.js';
import { SMALL } from '../support/server.js';

const silent = () => undefined;
const options = { settings: SMALL };
const data = await folder();
let server = await startEmbedded(data, silent, options);
afterAll(async () => {
  await server.stop();
  await eraseEmbedded(data, silent);
});

const mayNot = (sql: string) => expect(query(server.url, sql), sql).rejects.toMatchObject({ code: '42501' });

/** What of the studio's belongs to somebody else than the role that asks; extensions keep their own. */
const NOT_OWN = `
  SELECT c.oid::regclass::text AS name FROM pg_class c JOIN pg_namespace n ON n.oid = relnamespace
   WHERE nspname IN ('public', 'graphile_worker') AND relkind IN ('r', 'p', 'v', 'S') AND pg_get_userbyid(relowner) <> current_user
  UNION ALL
  SELECT p.oid::regprocedure::text FROM pg_proc p JOIN pg_namespace n ON n.oid = pronamespace
   WHERE nspname IN ('public', 'graphile_worker') AND pg_get_userbyid(proowner) <> current_user
     AND NOT EXISTS (SELECT FROM pg_depend WHERE objid = p.oid AND deptype = 'e')
  UNION ALL
  SELECT t.oid::regtype::text FROM pg_type t JOIN pg_namespace n ON n.oid = typnamespace
   WHERE nspname IN ('public', 'graphile_worker') AND typtype IN ('e', 'd') AND pg_get_userbyid(typowner) <> current_user
     AND NOT EXISTS (SELECT FROM pg_depend WHERE objid = t.oid AND deptype = 'e')`;

describe('the program on its own server', () => {
  test('is no superuser: it reads no files, runs no programs, makes no roles and no databases', async () => {
    const rights =
      'SELECT rolsuper, rolcreatedb, rolcreaterole, rolreplication FROM pg_roles WHERE rolname = current_user';
    expect(await query(server.url, rights)).toEqual([
      { rolsuper: false, rolcreatedb: false, rolcreaterole: false, rolreplication: false },
    ]);
    await mayNot(`COPY (SELECT 1) TO PROGRAM 'true'`);
    await mayNot(`SELECT pg_read_file('PG_VERSION')`);
    await mayNot('CREATE ROLE somebody SUPERUSER');
    await mayNot('CREATE DATABASE another');
    await mayNot(`SET session_replication_role = 'replica'`);
  });

  test('makes all its tables there, and what is made is its own', async () => {
    expect((await migrate(server.url)).length).toBeGreaterThan(20);
    expect(await query(server.url, NOT_OWN)).toEqual([]);
  });
});

test('what an earlier version made as superuser is handed over, with all that is in it', async () => {
  const { superuserUrl } = server;
  await query(superuserUrl, 'ALTER DATABASE wareboard OWNER TO wareboard');
  await query(superuserUrl, 'DROP OWNED BY wareboard_studio CASCADE');
  await migrate(superuserUrl);
  await query(superuserUrl, `INSERT INTO room (id, name, benches) VALUES (gen_random_uuid(), 'Long room', 8)`);
  await query(superuserUrl, 'CREATE VIEW benches AS SELECT benches FROM room');
  await query(superuserUrl, 'CREATE SEQUENCE of_nothing');
  await mayNot('TABLE room');
  await server.stop();

  const users = [startEmbedded(data, silent, options), startEmbedded(data, silent, options)];
  const [first, second] = await Promise.all(users);
  await second?.stop();
  server = first ?? server;
  expect(await query(server.url, NOT_OWN)).toEqual([]);
  expect(await query(server.url, 'TABLE benches')).toEqual([{ benches: 8 }]);
  expect(await migrate(server.url)).toEqual([]);
  await query(server.url, 'ALTER TABLE room ADD COLUMN windows integer');
});

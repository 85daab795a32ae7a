import { randomUUID } from 'node:crypto';
import { hash } from '@node-rs/argon2';
import type { LightMyRequestResponse as Answer } from 'fastify';
import { afterAll } from 'vitest';
import { inTransaction } from '../../src/database/transaction.js';
import { type App, buildApp } from '../../src/server/app.js';
import { addStaffMember } from '../../src/studio/staff/service.js';
import { signIn } from '../../src/studio/staff/sign-in.js';
import { findBrokenRules } from '../invariants.js';
import { asRead, type Conditions } from './as-read.js';
import { afterEachTest, testDatabase } from './database.js';

/** The studio's clock in tests: a Tuesday morning, until a test sets another. */
const MORNING = '2026-03-10T09:00:00Z';

const PASSWORD = 'a long test password';

/** As weak as can be: nearly every file signs in, and the program's own way of hashing is made to take long. */
const passwordHash = await hash(PASSWORD, { memoryCost: 8, timeCost: 1, parallelism: 1 });

afterEachTest(async (db) => {
  const broken = await findBrokenRules(db);
  if (broken.length > 0) throw new Error(`Rules are broken:\n${broken.join('\n')}`);
});

/** The whole API over a database of this test file's own (empty unless `clone` gives another), with an owner and a tutor signed in. */
export async function testApp(options: { clone?: () => Promise<string> } = {}) {
  const { db, url } = await testDatabase(options);
  let time = new Date(MORNING);
  const clock = {
    now: () => time,
    /** Moves the clock; whoever is signed in stays so. */
    set: async (instant: string) => {
      time = new Date(instant);
      await db.signIn.updateMany({ data: { createdAt: time, lastUsedAt: time } });
    },
  };
  const app = await buildApp({ db, now: clock.now });
  afterAll(() => app.close());
  const staffOf = (role: 'owner' | 'tutor') =>
    inTransaction(db, (tx) =>
      addStaffMember(tx, clock.now(), { name: `Test ${role}`, email: `${role}@example.org`, role, passwordHash }),
    );
  const [ownerMember, tutorMember] = [await staffOf('owner'), await staffOf('tutor')];
  const cookieOf = (email: string) => signIn(db, clock.now(), { email, password: PASSWORD });
  const owner = caller(app, await cookieOf(ownerMember.email));
  const tutor = caller(app, await cookieOf(tutorMember.email));
  return { app, db, url, clock, owner, tutor, ownerMember, tutorMember, stranger: caller(app, '') };
}

export interface Caller {
  /** The same person, served by another process. */
  through(other: App): Caller;
  get(url: string): Promise<Answer>;
  post(url: string, payload?: unknown, key?: string): Promise<Answer>;
  /** Replaces what is there now, or makes what is not; `conditions` in place of the ETag that is looked up. */
  put(url: string, payload: unknown, key?: string, conditions?: Conditions): Promise<Answer>;
}

function caller(app: App, token: string): Caller {
  const headers = { cookie: `wareboard=${token}`, 'sec-fetch-site': 'same-origin' };
  const get = (url: string) => app.inject({ method: 'GET', url, headers });
  const send = (method: 'POST' | 'PUT', url: string, payload: unknown, key: string = randomUUID(), more = {}) => {
    const all = { ...headers, 'idempotency-key': `"${key}"`, ...more };
    return app.inject({ method, url, payload: payload as object, headers: all });
  };
  return {
    through: (other: App) => caller(other, token),
    get,
    post: (url: string, payload: unknown = {}, key?: string) => send('POST', url, payload, key),
    put: async (url: string, payload: unknown, key?: string, conditions?: Conditions) =>
      send('PUT', url, payload, key, conditions ?? asRead(await get(url))),
  };
}

import { expect, test } from 'vitest';
import { signIn } from '../../src/studio/staff/sign-in.js';
import { testApp } from '../support/app.js';
import type { JsonSchema } from '../support/arbitrary.js';
import { longValue } from '../support/long-values.js';
import { elsewhere, type Operation, operations, somewhere } from '../support/operations.js';

const { app, db, clock, ownerMember } = await testApp();
const all = await operations(app);
const { schemas } = (app.swagger() as { components: { schemas: Record<string, JsonSchema> } }).components;
const cookie = `wareboard=${await signIn(db, clock.now(), { email: ownerMember.email, password: 'a long test password' })}`;
const headers = { cookie, 'sec-fetch-site': 'same-origin', 'idempotency-key': '"a-key-of-its-own"', 'if-match': '*' };
const send = ({ method, path }: Operation, query: string, payload?: unknown) =>
  app.inject({
    ...{ method, url: `${somewhere(path)}${query}`, headers, remoteAddress: elsewhere() },
    ...(payload === undefined ? {} : { payload: payload as object }),
  });

const NEVER = ['0000-01-01', '0001-01-01', '1899-12-31', '2200-01-01', '9999-12-31'];
const isDay = ({ format }: JsonSchema) => format === 'date' || format === 'date-time';
const asked = all.flatMap((o) =>
  o.parameters
    .filter((p) => p.in === 'query' && isDay(p.schema))
    .map((p) => [`${p.name} of ${o.name}`, o, p.name] as const),
);
const dated = (o: Operation, day: string) =>
  longValue(o.body as JsonSchema, schemas, {
    text: (schema) => (isDay(schema) ? (schema.format === 'date' ? day : `${day}T09:00:00Z`) : undefined),
    items: 1,
  });
const bodies = all.filter((o) => o.body && JSON.stringify(dated(o, '§')).includes('§'));

test('there are days in addresses and in bodies', () => {
  expect(asked.length).toBeGreaterThan(1);
  expect(bodies.length).toBeGreaterThan(10);
});

test.each(asked)('%s is a day that can be', async (_, o, name) => {
  for (const day of NEVER) {
    const answer = await send(o, `?${name}=${day}`);
    expect([answer.statusCode, answer.json().errors?.[0]], day).toEqual([
      422,
      { pointer: `#/querystring/${name}`, detail: 'must be a day from 1900-01-01 to 2199-12-31' },
    ]);
  }
});

test.each(bodies.map((o) => [o.name, o] as const))('%s holds days that can be', async (_, o) => {
  for (const day of NEVER) {
    const answer = await send(o, '', dated(o, day));
    expect(answer.statusCode, `${day} ${answer.body}`).toBe(422);
    const details = answer.json().errors.map(({ detail }: { detail: string }) => detail);
    expect(details).toContainEqual(
      expect.stringMatching(/^must (be a day from 1900-01-01 to 2199-12-31|be between 2000 and 2099)$/),
    );
  }
});

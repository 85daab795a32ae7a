import { randomUUID } from 'node:crypto';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { signIn } from '../../src/studio/staff/sign-in.js';
import { testApp } from '../support/app.js';
import { arbitrary, type JsonSchema, type World } from '../support/arbitrary.js';
import { cloneDemo } from '../support/demo.js';
import { elsewhere, type Operation, operations } from '../support/operations.js';

// What Schemathesis checks of an API (arXiv:2112.10328): no server errors, only documented statuses and media types. The seed is
// fixed, so that a run can be repeated; FUZZ_SEED and FUZZ_RUNS ask for others.
const seed = Number(process.env.FUZZ_SEED ?? 20260310);
const numRuns = Number(process.env.FUZZ_RUNS ?? 12);

const { app, db, clock, ownerMember } = await testApp({ clone: cloneDemo });
const all = await operations(app);
const cookie = `wareboard=${await signIn(db, clock.now(), { email: ownerMember.email, password: 'a long test password' })}`;

const byId = { select: { id: true }, take: 20 } as const;
const KNOWN: [RegExp, { id: string }[]][] = [
  [/^(person|payer|attendee|maker)/, await db.person.findMany(byId)],
  [/^kiln/, await db.kiln.findMany(byId)],
  [/^schedule/, await db.schedule.findMany(byId)],
  [/^course/, await db.course.findMany(byId)],
  [/^plan/, await db.coursePlan.findMany(byId)],
  [/^(material|clay|glaze)/, await db.material.findMany(byId)],
  [/^room/, await db.room.findMany(byId)],
  [/^tutor/, await db.staffMember.findMany(byId)],
  [/axRate/, await db.taxRate.findMany(byId)],
  [/^refundPolicy/, await db.refundPolicy.findMany(byId)],
  [/^charge/, await db.charge.findMany(byId)],
  [/^board/, await db.board.findMany(byId)],
  [/^piece/, await db.piece.findMany(byId)],
  [/^firing/, await db.firing.findMany(byId)],
  [/^document/, await db.document.findMany(byId)],
  [/^booking/, await db.booking.findMany(byId)],
  [/^mix/, await db.mix.findMany(byId)],
  [/^batch/, await db.mixBatch.findMany(byId)],
  [/^tile/, await db.testTile.findMany(byId)],
];
const document = app.swagger() as { components: { schemas: Record<string, JsonSchema> } };
const world: World = {
  schemas: document.components.schemas,
  ids: (field) => KNOWN.filter(([name]) => name.test(field)).flatMap(([, rows]) => rows.map(({ id }) => id)),
};

/** Values for an operation's address, query and body. */
function requests({ path, parameters, body }: Operation) {
  const named = parameters.filter((p) => p.in !== 'header');
  const values = named.map((p) => {
    const field = p.name === 'id' ? (path.split('/')[2] ?? '') : p.name;
    return [`${p.in} ${p.name}`, arbitrary(p.schema as JsonSchema, world, field)] as const;
  });
  const given = fc.record(Object.fromEntries(values), {
    requiredKeys: named.filter((p) => p.in === 'path').map((p) => `path ${p.name}`),
  });
  return fc.record({ given, payload: body ? arbitrary(body as JsonSchema, world) : fc.constant(undefined) });
}

function urlOf(path: string, given: Record<string, unknown>): string {
  const query = new URLSearchParams();
  let url = path;
  for (const [place, value] of Object.entries(given)) {
    const [where, name] = place.split(' ') as ['path' | 'query', string];
    if (where === 'path')
      url = url.replace(
        `{${name}}`,
        encodeURIComponent(`${value}`.slice(0, 80).replace(/[\ud800-\udfff]/g, '?')) || '-',
      );
    else query.set(name, `${value}`);
  }
  return query.size > 0 ? `${url}?${query}` : url;
}

const LEFT_OUT = new Set([
  'POST /api/sign-out',
  'POST /api/sign-out/others', // says how many it ended: none, the second time
  'POST /api/sign-in',
  'POST /api/set-up',
  'POST /api/staff',
  'POST /api/staff/{staffMemberId}/password-link',
  'POST /api/password-link/use',
  'POST /api/password',
  'POST /api/tokens',
  'POST /api/calendar-feeds',
]); // one session; slow hashes; a secret that is shown once
const fuzzed = all.filter(({ name }) => !LEFT_OUT.has(name));

test.each(fuzzed.map((o) => [o.name, o] as const))(
  '%s answers whatever it is sent as its document says',
  async (_, o) => {
    const property = fc.asyncProperty(requests(o), async ({ given, payload }) => {
      const url = urlOf(o.path, given);
      const headers = {
        cookie,
        'sec-fetch-site': 'same-origin',
        'idempotency-key': `"${randomUUID()}"`,
        ...(o.method === 'PUT' && { 'if-match': '*' }),
        ...(payload !== undefined && { 'content-type': 'application/json' }),
      };
      const sent = {
        method: o.method,
        url,
        headers,
        ...(payload !== undefined && { payload: JSON.stringify(payload) }),
      };
      const answer = await app.inject({ ...sent, remoteAddress: elsewhere() });
      const told = o.responses[answer.statusCode];
      expect(told, `${url} ${answer.statusCode} ${answer.body}`).toBeDefined();
      expect(answer.statusCode, answer.body).toBeLessThan(500);
      const [type] = Object.keys(told?.content ?? {});
      if (type) expect(answer.headers['content-type']).toContain(type);
      if (o.method !== 'GET' && answer.statusCode < 300) {
        const again = await app.inject({ ...sent, remoteAddress: elsewhere() });
        expect([again.statusCode, again.json()]).toEqual([answer.statusCode, answer.json()]);
      }
    });
    await fc.assert(property, { seed, numRuns });
  },
);

import { pino } from 'pino';
import { beforeEach, describe, expect, test } from 'vitest';
import { smtp } from '../../src/mail/smtp.js';
import { workOnce } from '../../src/worker/worker.js';
import { testApp } from '../support/app.js';
import { bookingFixture } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { lineTo } from '../support/line.js';
import { type Handling, mailServer, refusal } from '../support/mail-server.js';

// What becomes of a letter where the mail server (npm smtp-server) treats it badly. Reply codes: RFC 5321, 4.2; "try again later"
// for strangers: RFC 6647; passwords: RFC 4954.
const { db, url, owner, clock } = await testApp();
const home = await coursesFixture(owner);
const silent = pino({ level: 'silent' });
const from = { name: 'Alder Lane Pottery', address: 'bench@alderlane.example' };

let letter = { id: '', messageId: '' };
beforeEach(async () => {
  await db.$executeRaw`DELETE FROM graphile_worker._private_jobs`;
  const { payerId } = await bookingFixture(owner, (await home.addCourse()).id);
  letter = await db.notice.findFirstOrThrow({ where: { personId: payerId } });
});

/** One look of the worker at all that waits, however long it was to wait; and the outcomes so far, in order. */
async function attempt(smtpUrl: string): Promise<string[]> {
  await db.$executeRaw`UPDATE graphile_worker._private_jobs SET run_at = now()`;
  const post = { db, now: clock.now, transport: smtp(smtpUrl, 700), writesFiles: false, from };
  await workOnce(url, post, silent);
  const rows = await db.delivery.findMany({ where: { noticeId: letter.id }, orderBy: { id: 'asc' } });
  return rows.map(({ outcome }) => outcome);
}
const lastDetail = async () =>
  (await db.delivery.findFirstOrThrow({ where: { noticeId: letter.id }, orderBy: { id: 'desc' } })).detail;
const jobs = async () => (await db.$queryRaw<unknown[]>`SELECT id FROM graphile_worker._private_jobs`).length;

describe('a letter is tried again, and leaves under its Message-ID, where the server', () => {
  const once =
    (then: (nth: number) => Promise<void> | void): Handling =>
    (_, nth) =>
      nth === 1 ? then(nth) : undefined;

  test.each<[string, Handling, RegExp]>([
    [
      'is busy after DATA (451)',
      once(() => Promise.reject(refusal(451, 'local error'))),
      /did not take the message.*local error/,
    ],
    ['is full (452)', once(() => Promise.reject(refusal(452, 'no room'))), /did not take the message.*no room/],
    [
      'says nothing for too long',
      once(() => new Promise((go) => setTimeout(go, 1500))),
      /can't be reached|did not take/,
    ],
  ])('%s', async (_, handling, words) => {
    const server = await mailServer(handling);
    expect(await attempt(server.url)).toEqual(['failed']);
    expect(await lastDetail()).toMatch(words);
    expect(await jobs()).toBe(1);
    expect(await attempt(server.url)).toEqual(['failed', 'sent']);
    expect(new Set(server.begun)).toEqual(new Set([letter.messageId]));
    expect(await jobs()).toBe(0);
  });

  test('turns strangers away at first (450 at RCPT)', async () => {
    let asked = 0;
    const server = await mailServer(undefined, {
      onRcptTo: (_address, _session, done) => done(asked++ < 2 ? refusal(450, 'come back in five minutes') : undefined),
    });
    expect(await attempt(server.url)).toEqual(['failed']);
    expect(await attempt(server.url)).toEqual(['failed', 'failed']);
    expect(await attempt(server.url)).toEqual(['failed', 'failed', 'sent']);
    expect(server.begun).toEqual([letter.messageId]);
  });

  test('breaks off once it has the letter: that one goes twice, and is known for the same', async () => {
    let cut: () => Promise<void> = async () => undefined;
    const server = await mailServer((_, nth) => (nth === 1 ? cut() : undefined));
    const line = await lineTo(`http://127.0.0.1:${server.port}`);
    cut = line.cut;
    const address = `smtp://${new URL(line.url).host}`;
    expect(await attempt(address)).toEqual(['failed']);
    expect(await lastDetail()).toMatch(/can't be reached|did not take/);
    expect(await attempt(address)).toEqual(['failed', 'failed']); // nobody there at all
    await line.mend();
    expect(await attempt(address)).toEqual(['failed', 'failed', 'sent']);
    expect(server.taken.map(({ messageId }) => messageId)).toEqual([letter.messageId, letter.messageId]);
    expect(await attempt(address)).toEqual(['failed', 'failed', 'sent']);
  });

  test('wants a password that the settings lack, or have wrong; until they are mended', async () => {
    const server = await mailServer(undefined, {
      authOptional: false,
      allowInsecureAuth: true,
      onAuth: ({ username, password }, _session, done) =>
        username === 'bench' && password === 'slip' ? done(null, { user: username }) : done(refusal(535, 'no')),
    });
    const as = (user: string) => server.url.replace('://', `://${user}`);
    expect(await attempt(server.url)).toEqual(['failed']);
    expect(await lastDetail()).toContain('wants a user and a password. Put them into SMTP_URL.');
    expect(await attempt(as('bench:slop@'))).toEqual(['failed', 'failed']);
    expect(await lastDetail()).toContain('does not accept the user or the password in SMTP_URL');
    expect(await attempt(as('bench:slip@'))).toEqual(['failed', 'failed', 'sent']);
  });

  test('offers encryption with a certificate that nobody vouches for: no password and no letter goes to it', async () => {
    let authenticated = 0;
    const server = await mailServer(undefined, {
      disabledCommands: [],
      onAuth: (_auth, _session, done) => done(null, { user: String(authenticated++) }),
    });
    expect(await attempt(server.url.replace('://', '://bench:slip@'))).toEqual(['failed']);
    expect([authenticated, server.begun, await jobs()]).toEqual([0, [], 1]);
  });
});

describe('a letter that the server will never take is noted once, and not tried again', () => {
  test.each<[string, Parameters<typeof mailServer>]>([
    ['an unknown person (550 at RCPT)', [undefined, { onRcptTo: (_a, _s, done) => done(refusal(550, 'nobody here')) }]],
    ['a letter that it refuses (554 after DATA)', [() => Promise.reject(refusal(554, 'nobody here'))]],
  ])('%s', async (_, [handling, options]) => {
    const server = await mailServer(handling, options);
    expect(await attempt(server.url)).toEqual(['failed']);
    expect(await lastDetail()).toContain('nobody here');
    expect(await jobs()).toBe(0);
    expect(server.taken).toEqual([]);
  });
});

test('a mail server that is away for days: the letter waits in the queue for five', async () => {
  const [job] = await db.$queryRaw<{ max_attempts: number }[]>`SELECT max_attempts FROM graphile_worker._private_jobs`;
  // graphile-worker's documentation: the pause before each attempt is exp(least(10, attempt)) seconds
  let seconds = 0;
  for (let n = 1; n < (job?.max_attempts ?? 0); n++) seconds += Math.exp(Math.min(10, n));
  expect(seconds / 86_400).toBeGreaterThan(4.5); // RFC 5321, 4.5.4.1: "at least 4-5 days"
});
